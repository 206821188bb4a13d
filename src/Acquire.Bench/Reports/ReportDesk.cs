using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Life;
using Acquire.Bench.Causes;
using Acquire.Bench.Charts;
using Acquire.Bench.History;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Reports;

/// <summary>Reports of the darkroom, to be laid out by whoever asked.</summary>
public sealed class ReportDesk(AcquireStore store, TimeProvider time)
{
    /// <exception cref="BenchException">There is no such strip, or it was read without aims.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<DarkroomReport> AskAsync(ReportAsked asked, CancellationToken cancellationToken)
    {
        var (history, record) = asked.Strip is { } id
            ? await OfStripAsync(id, asked.Filter, cancellationToken)
            : await OfPeriodAsync(asked.Filter, cancellationToken);
        var strip = history.Strips[history.Records.IndexOf(record)];
        var now = time.GetUtcNow();
        var life = LifeStudy.Of(SuddenFaults.Ageing(history), history.Sheet);
        // Lines have levels of their own, so each is looked at by itself.
        var drift = history.Strips.GroupBy(s => s.Line, StringComparer.OrdinalIgnoreCase)
            .Select(g => (Line: g.Key, Study: history.MovementsOf(g)))
            .ToList();
        ImmutableArray<LineFinding> findings =
            [.. drift.SelectMany(d => d.Study.Findings.Select(f => new LineFinding(d.Line, f))).OrderBy(f => f.Finding.Began)];
        return new DarkroomReport
        {
            Title = Title(asked, history, strip),
            MadeAt = TimeZoneInfo.ConvertTime(now, time.LocalTimeZone),
            History = history,
            Record = record,
            Strip = strip,
            Answer = StripAnswer.Of(strip.Judgement),
            IsOfOneStrip = asked.Strip is not null,
            Findings = findings,
            Chart = ChartDesk.Of(history, [.. findings.Select(f => f.Finding)]),
            FindingNotes = [.. drift.SelectMany(d => d.Study.Notes.Select(n => d.Line is null || drift.Count == 1 ? n : $"{d.Line}: {n}"))],
            Causes = await CausesAsync(history, asked.Strip is null ? null : record, cancellationToken),
            Life = life,
            Standings = BottleStandings.Of(history, life, now),
            Bottles = [.. history.Books.BottlesInUse(now).Select(b => history.Books.At(b, now))],
            Instruments = await InstrumentsAsync(history, cancellationToken),
            References = await ReferencesAsync(history, cancellationToken),
        };
    }

    private static string Title(ReportAsked asked, StripHistory history, StripPoint strip)
    {
        if (asked.Strip is not null)
        {
            return $"{history.Sheet.Name}, strip {StripId.ShortForm(strip.StripId)}, {Numbers.Day(strip.At)}";
        }

        // The days of the strips it is of: the period that was asked for may reach over days without any.
        var (from, to) = (history.Strips[0].At, history.Strips[^1].At);
        string?[] parts =
        [
            history.Sheet.Name, Named("line", asked.Filter.Strips.Line), Named("bottle", asked.Filter.Bottle),
            Named("lot", asked.Filter.Strips.LotCode),
            from.Date == to.Date ? Numbers.Day(to) : $"{Numbers.Day(from)} to {Numbers.Day(to)}",
        ];
        return string.Join(", ", parts.OfType<string>());

        static string? Named(string what, string? name) => name is null ? null : $"{what} {name}";
    }

    private async Task<(StripHistory, StripRecord)> OfPeriodAsync(HistoryFilter filter, CancellationToken cancellationToken)
    {
        var history = await StripHistory.LoadAsync(store, filter, time, cancellationToken);
        return history is { Strips.IsEmpty: false }
            ? (history, history.Records[^1])
            : throw new BenchException(history is null
                ? "There is no such strip to report on. See: acquire strip list"
                : "None of these strips has aims, or all were read again: there is nothing "
                    + "to judge. Give the lot its reference: acquire lot reference LOT") { IsNotThere = true };
    }

    private async Task<(StripHistory, StripRecord)> OfStripAsync(string id, HistoryFilter filter, CancellationToken cancellationToken)
    {
        var wanted = await store.GetStripAsync(id, cancellationToken);
        var before = filter with { Process = wanted.JudgedBy.Key, Strips = filter.Strips with { Line = wanted.Tags.Line, Last = null } };
        var history = await StripHistory.LoadAsync(store, before, time, cancellationToken);
        var at = history?.Records.Select(r => r.Id).ToList().IndexOf(wanted.Id) ?? -1;
        if (at < 0)
        {
            throw new BenchException(wanted.Aims.IsEmpty
                ? $"Strip {StripId.ShortForm(wanted.Id)} was read without aims, so it cannot be judged."
                : wanted.Tags.Reread?.Of is { } first
                    ? $"Strip {StripId.ShortForm(wanted.Id)} is a second reading; ask for the strip itself: {StripId.ShortForm(first)}"
                    : $"Strip {StripId.ShortForm(wanted.Id)} is outside the period that was asked for.");
        }

        // A strip without a line has those beside it that have none either.
        var beside = Enumerable.Range(0, at + 1)
            .Where(i => wanted.Tags.Line is not null || history!.Records[i].Tags.Line is null)
            .TakeLast(ReportAsked.StripsBeside)
            .ToList();
        return (history!.Only(beside), history.Records[at]);
    }

    private async Task<CausesOfStrip?> CausesAsync(StripHistory history, StripRecord? only, CancellationToken cancellationToken)
    {
        for (var i = history.Strips.Length - 1; i >= 0; i--)
        {
            var (strip, record) = (history.Strips[i], history.Records[i]);
            if (only is not null && record.Id != only.Id)
            {
                continue;
            }

            if (StripAnswer.Of(strip.Judgement) is { Says: not StripSays.InControl, Judged: > 0 })
            {
                return new CausesOfStrip(strip, (await new CauseDesk(store, time).AskAsync(record, [], cancellationToken)).Study);
            }
        }

        return null;
    }

    private async Task<ImmutableArray<InstrumentTrust>> InstrumentsAsync(StripHistory history, CancellationToken cancellationToken)
    {
        var book = new CheckBook(store, time);
        var checks = await book.ListAsync(cancellationToken);
        var tests = await new RepeatabilityBook(store).ListAsync(cancellationToken);
        var instruments = ImmutableArray.CreateBuilder<InstrumentTrust>();
        foreach (var instrument in history.Records.Select(r => r.Provenance.Instrument?.Name).OfType<string>()
            .Distinct(StringComparer.OrdinalIgnoreCase))
        {
            bool IsOf(Provenance provenance) => provenance.Instrument is not { } used || Keys.Same(used.Name, instrument);
            var test = tests.LastOrDefault(t => IsOf(t.Test.Provenance));
            instruments.Add(new InstrumentTrust(
                instrument,
                await book.StandingAsync(instrument, cancellationToken),
                checks.LastOrDefault(c => IsOf(c.Check.Provenance)),
                test.Test is null ? null : (TimeZoneInfo.ConvertTime(test.Test.Provenance.At, time.LocalTimeZone), test.Report)));
        }

        return instruments.ToImmutable();
    }

    private async Task<ImmutableArray<ReferenceTrust>> ReferencesAsync(StripHistory history, CancellationToken cancellationToken)
    {
        var references = ImmutableArray.CreateBuilder<ReferenceTrust>();
        foreach (var lot in history.Strips.Select(s => s.Lot).Distinct(StringComparer.OrdinalIgnoreCase))
        {
            var again = await store.ListRechecksAsync(lot, cancellationToken);
            var first = await store.CurrentReferenceAsync(lot, cancellationToken);
            var later = first is null ? [] : again.Where(r => r.Provenance.At >= first.Provenance.At).ToList();
            references.Add(later.Count == 0
                ? new ReferenceTrust(lot, null, null)
                : new ReferenceTrust(lot, TimeZoneInfo.ConvertTime(later[^1].Provenance.At, time.LocalTimeZone), Review(first!, later)));
        }

        return references.ToImmutable();
    }

    /// <summary>What the readings tell; null where they have no patch in common.</summary>
    private static RecheckReview? Review(Domain.Lots.LotReference first, List<Domain.Trust.ReferenceRecheck> later)
    {
        try
        {
            return RecheckReview.Of(first, later) is { BeginsWith: null } review ? review : null;
        }
        catch (Analysis.Gauge.GaugeException)
        {
            return null;
        }
    }
}
