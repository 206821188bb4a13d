using Acquire.Bench.Books;
using Acquire.Bench.Lots;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;

namespace DemoTerm;

/// <summary>Reads and keeps the strips of the history, judged by what is in force as they are read.</summary>
internal sealed class StripKeeper(
    AcquireStore store, LotBook lots, BookKeeper books, Desk desk, HistoryClock clock, HistoryIds ids, int seed)
{
    private readonly CheckBook _checks = new(store, clock);
    private readonly RepeatabilityBook _tests = new(store);
    private readonly Dictionary<string, (StripPlan Plan, Guid Id, int Run)> _kept = [];
    private int _runs;

    /// <summary>Reads a strip, keeps it, and enters it in the books.</summary>
    public async Task ReadAsync(StripPlan plan, CancellationToken cancellationToken)
    {
        var ledger = await books.OpenAsync(cancellationToken);
        var bottles = BookKeeper.Bottles(ledger, plan.Baths);
        var story = FilmEffects.Of(plan.Lot, ledger.At(bottles[0], plan.RanAt), ledger.At(bottles[1], plan.RanAt), plan.Trouble);
        // Strips of a pair went through together, so that chance moved them alike.
        var run = plan.PairedWith is { } pair ? _kept[pair].Run : _runs++;
        var line = BookKeeper.Line(ledger, plan.WrongLine ?? plan.Line);
        var begun = clock.Now;
        var entry = await lots.GetAsync(plan.Lot.Code, cancellationToken);
        var (check, lacking) = await _checks.StandingAsync(Desk.Instrument.Name, cancellationToken);
        var patches = desk.Read(entry.Lot.Layout.Patches, story.Strip(seed, run), scratched: plan.Scratched);
        var record = Record(
            entry, patches, entry.InForce.Aims, new Provenance(begun, plan.By, Desk.Instrument)) with
        {
            ReferenceId = entry.Reference?.Id,
            CheckId = check?.Id,
            CheckLacking = lacking,
            Repeatability = await _tests.InForceAsync(Desk.Instrument.Name, cancellationToken),
            Tags = new StripTags
            {
                Line = line.Name,
                Bottle = plan.Baths[0],
                Note = plan.Note,
                Handling = plan.Handling,
                Confirms = IdOf(plan.Confirms),
                PairedWith = IdOf(plan.PairedWith),
            },
        };
        await store.AddStripAsync(record, cancellationToken);
        _kept.Add(plan.Name, (plan, record.Id, run));
        var strip = new StripRun(line.Name, plan.Baths[0], line, bottles, []);
        await books.EnterAsync(plan.By, (now, stamp) => strip.Entries(now, plan.Lot.Code, record.Id, stamp), cancellationToken, plan.RanAt);
    }

    /// <summary>Reads a strip again after its silver was bleached out.</summary>
    public async Task ReadAgainAsync(RereadPlan again, CancellationToken cancellationToken)
    {
        var (plan, id, run) = _kept[again.Of];
        var first = await FindAsync(id, cancellationToken);
        var ledger = await books.OpenAsync(cancellationToken);
        var bottles = BookKeeper.Bottles(ledger, plan.Baths);
        var fresh = ledger.At(bottles[1], bottles[1].HappenedAt);
        var story = FilmEffects.Of(plan.Lot, ledger.At(bottles[0], plan.RanAt, exceptStrip: id), fresh, plan.Trouble);
        var begun = clock.Now;
        var (check, lacking) = await _checks.StandingAsync(Desk.Instrument.Name, cancellationToken);
        var patches = desk.Read(first.Layout.Patches, story.Strip(seed, run));
        var entry = await lots.GetAsync(plan.Lot.Code, cancellationToken);
        await store.AddStripAsync(
            Record(entry with { Sheet = first.JudgedBy }, patches, first.Aims, new Provenance(begun, again.By, Desk.Instrument)) with
            {
                ReferenceId = first.ReferenceId,
                CheckId = check?.Id,
                CheckLacking = lacking,
                Repeatability = await _tests.InForceAsync(Desk.Instrument.Name, cancellationToken),
                Tags = new StripTags
                {
                    Line = first.Tags.Line,
                    Bottle = first.Tags.Bottle,
                    Note = again.Note,
                    Reread = new Reread(id, again.Treatment),
                },
            },
            cancellationToken);
    }

    /// <summary>Puts right the line of a strip, in its record and in the books.</summary>
    public async Task PutLineRightAsync(string name, string by, string reason, CancellationToken cancellationToken)
    {
        var (plan, id, _) = _kept[name];
        var strip = await FindAsync(id, cancellationToken);
        await store.AddStripAsync(
            new StripAmendment(reason, by) { Tags = tags => tags with { Line = plan.Line } }.Apply(strip, clock.Now), cancellationToken);
        var use = (await books.OpenAsync(cancellationToken)).Uses.Single(u => u.StripId == id);
        await books.EnterAsync(by, (_, stamp) => [new Withdrawal(stamp(), use.Id, reason)], cancellationToken);
        await books.EnterAsync(
            by, (now, stamp) => [new FilmUse(stamp(), use.Films, use.BottleIds, BookKeeper.Line(now, plan.Line).Id, id)],
            cancellationToken, use.HappenedAt);
    }

    private StripRecord Record(
        LotEntry entry, ImmutableArray<PatchReads> patches, ImmutableArray<Aim> aims, Provenance provenance) => new(
        ids.Next(clock.Now),
        entry.Lot.Code,
        entry.Lot.Layout,
        entry.Sheet,
        patches,
        PatchMeans.Of(patches),
        aims,
        provenance,
        Revision.First(provenance.By, clock.Now, "read at the bench"));

    private Guid? IdOf(string? name) => name is null ? null : _kept[name].Id;

    private async Task<StripRecord> FindAsync(Guid id, CancellationToken cancellationToken) =>
        await store.FindStripAsync(id.ToString(), cancellationToken) ?? throw new KeyNotFoundException($"Strip {id} is not in the store.");
}
