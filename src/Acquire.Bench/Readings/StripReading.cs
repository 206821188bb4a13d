using Acquire.Analysis.Judgement;
using Acquire.Analysis.Plausibility;
using Acquire.Bench.Books;
using Acquire.Bench.Lots;
using Acquire.Bench.Questions;
using Acquire.Bench.Sessions;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Readings;

/// <summary>A control strip that is to be read.</summary>
public sealed record StripRequest
{
    /// <summary>Code number of its lot; null for that of the strip that it confirms or is again.</summary>
    public string? Lot { get; init; }

    /// <summary>
    /// What the user says of it. A place that is not said is that of the strip that it confirms or is again, or else what was used last.
    /// </summary>
    public StripTags Tags { get; init; } = StripTags.None;

    /// <summary>When the strip ran in the developer, if the user said so; null for about now.</summary>
    public DateTimeOffset? RanAt { get; init; }

    /// <summary>Whether the lot has no reference yet and the strip is to become part of one.</summary>
    public bool ForBaseline { get; init; }

    /// <summary>What happens where no calibration check is in force; null where the user never said.</summary>
    public CheckRequirement? RequireCheck { get; init; }
}

/// <summary>A control strip that was read and kept.</summary>
/// <param name="Ties">What it says about the strip it confirms, or about its own earlier reading.</param>
/// <param name="Context">What the books say about it; null when they know nothing of it.</param>
/// <param name="Warnings">What looks wrong about what the books gained by it.</param>
public sealed record KeptStrip(
    StripRecord Record, StripJudgement Judgement, StripTies Ties, StripContext? Context, ImmutableArray<string> Warnings) : KeptReading
{
    public override bool Holds => Judgement.Overall != Zone.Out;
}

/// <summary>
/// A strip is judged by what was in force when its session began: sheet, reference, crossover and test are settled in the plan. One that is
/// read again is judged by what it was judged by the first time.
/// </summary>
internal sealed class StripReading(AcquireStore store, LotBook lots, TimeProvider time)
    : ReadingPurpose<StripRequest, KeptStrip>
{
    private readonly CheckGate _gate = new(store, new CheckBook(store, time));
    private readonly RepeatabilityBook _repeatability = new(store);
    private readonly DarkroomBooks _books = new(store, time);

    public override SessionPurpose Purpose => SessionPurpose.Strip;

    public override SessionKind Kind => SessionKind.Strip;

    public override async Task<PlannedReading> PlanAsync(
        StripRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken)
    {
        // In the order in which a user can mend it: other strips, lot, place, instrument; and all before the first patch is read.
        var others = await OtherStrips.FindAsync(store, request.Tags, cancellationToken);
        var like = others.Reread ?? others.Confirms;
        var entry = await lots.GetAsync(
            request.Lot
                ?? like?.LotCode ?? throw new BenchException("Say which lot the strip is of: --lot CODE, the code number on its box."),
            cancellationToken);
        LotExpiry.Tell(entry.Lot, time, tell);
        var said = StripTags.Texts.Where(t => t.IsPlace && like is not null && t.Of(request.Tags) is null)
            .Aggregate(request.Tags, (tags, t) => t.With(tags, t.Of(like!.Tags)));
        var run = StripRun.Of(
            await _books.OpenAsync(cancellationToken), entry.Lot.ProcessKey, said.Line, said.Bottle, request.RanAt ?? time.GetUtcNow());
        foreach (var message in run.Messages)
        {
            tell(message);
        }

        var profile = terms.Instrument.Profile.Name;
        var check = await _gate.PassAsync(request.RequireCheck, profile, cancellationToken);
        if (check.Warning is { } warning)
        {
            tell(warning);
        }

        others.Require(entry, request.ForBaseline);
        var sheet = others.Reread?.JudgedBy ?? entry.Sheet;
        var plan = terms.PlanFor(Purpose, entry.Lot.Layout, sheet.ChannelsNeeded) with
        {
            Sheet = sheet,
            Reference = entry.Reference is { } reference ? (reference.Id, reference.Revision.Number) : null,
            RepeatabilityId = (await _repeatability.InForceAsync(profile, cancellationToken))?.TestId,
            CheckId = check.CheckId,
            CheckLacking = check.Lacking,
            Tags = said with { Line = run.LineName, Bottle = run.BottleName },
            RanAt = request.RanAt,
        };
        return new PlannedReading(plan, entry.Lot.Code);
    }

    public override async Task<StripKnowledge?> KnowledgeAsync(OpenSession session, CancellationToken cancellationToken)
    {
        var (begun, plan) = (session.Session, session.Plan);
        var aims = await AimsAsync(begun, plan, await FirstAsync(begun, plan));
        var judging = await StripJudging.LoadAsync(store, cancellationToken);
        return new StripKnowledge(plan.Sheet!, plan.Layout)
        {
            Aims = aims,
            Instrument = judging.InstrumentOf(begun.Provenance.Instrument?.Profile, begun.Provenance.At),
            Lately = await StripsLately.OfAsync(store, plan.Tags.Line, plan.Sheet!.Key, begun.Provenance.At, cancellationToken),
            OtherLots = aims.IsEmpty ? [] : (await LotsInHouse.LoadAsync(store, lots, begun.Provenance.At, cancellationToken))
                .Beside(begun.LotCode!, plan.Sheet!.Key, plan.Layout),
            ReadsPerPlacement = plan.ReadsPerPlacement,
        };
    }

    protected override async Task<Func<StoreTransaction, KeptStrip>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches)
    {
        // Everything the strip is judged by comes from the plan, nothing from today: a session that is gone on with after the limits or the
        // reference were changed gives the record that it would have given.
        var (begun, plan, now) = (session.Session, session.Plan, time.GetUtcNow());
        var first = await FirstAsync(begun, plan);
        var record = new StripRecord(
            Guid.CreateVersion7(now),
            begun.LotCode!,
            plan.Layout,
            plan.Sheet!,
            patches,
            PatchMeans.Of(patches),
            await AimsAsync(begun, plan, first),
            begun.Provenance,
            Revision.First(begun.Provenance.By, now, "read at the bench"))
        {
            ReferenceId = first is not null ? first.ReferenceId : plan.Reference?.Id,
            SessionId = begun.Id,
            CheckId = plan.CheckId,
            CheckLacking = plan.CheckLacking,
            Repeatability = await TestAsync(plan),
            Tags = plan.Tags,
            Questions = session.Progress.Questions.ToRecord(plan.Layout),
        };
        var lot = (await store.FindLotAsync(record.LotCode, CancellationToken.None))!;
        var judging = await StripJudging.LoadAsync(store, CancellationToken.None, unkept: record);
        var judgement = judging.Judge(record);
        var ties = await StripTies.OfAsync(store, record, judging, CancellationToken.None);
        return writing =>
        {
            // In the transaction of the record, so that neither film area nor stock can be without its strip.
            writing.AddStrip(record);
            var entered = Enter(writing, lot, record, (plan.RanAt ?? begun.Provenance.At).ToUniversalTime());
            return new KeptStrip(
                record, judgement, ties, StripContext.Of(entered.Books, record, lot, time.LocalTimeZone), entered.Warnings);
        };
    }

    /// <summary>
    /// Counts the strip's own area through the line and the bottles that its record names, and takes it off the lot's stock.
    /// </summary>
    private Entered Enter(StoreTransaction writing, StripLot lot, StripRecord record, DateTimeOffset ranAt) => _books.Enter(
        writing,
        record.Provenance.By,
        ranAt,
        (books, stamp) => StripRun.Of(books, lot.ProcessKey, record.Tags.Line, record.Tags.Bottle, ranAt, fillIn: false)
            .Entries(books, lot.Code, record.Id, stamp));

    private async Task<RepeatabilityInForce?> TestAsync(SessionPlan plan) =>
        plan.RepeatabilityId is { } test ? await _repeatability.InForceAsync(test, CancellationToken.None) : null;

    /// <summary>The earlier record of this very strip, as it stood when the session began; null where there is none.</summary>
    private async Task<StripRecord?> FirstAsync(BenchSession begun, SessionPlan plan)
    {
        if (plan.Tags.Reread is not { Of: var id })
        {
            return null;
        }

        var revisions = await store.StripRevisionsAsync(id, CancellationToken.None);
        return revisions.LastOrDefault(r => r.Revision.At <= begun.Provenance.At) ?? (revisions.Count > 0 ? revisions[0] : null);
    }

    /// <summary>
    /// The aims of the first reading of this very strip; else those by the reference, the crossover and the test that were in force when
    /// the session began; none for a strip of a baseline.
    /// </summary>
    private async Task<ImmutableArray<Aim>> AimsAsync(BenchSession begun, SessionPlan plan, StripRecord? first)
    {
        if (first is not null)
        {
            return first.Aims;
        }

        return plan.Reference is { } settled
            ? (await lots.PastAsync(begun.LotCode!, CancellationToken.None)).At(begun.Provenance.At, settled).Aims
            : [];
    }
}
