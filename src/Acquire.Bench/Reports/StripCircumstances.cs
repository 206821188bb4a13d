using Acquire.Analysis.Causes;
using Acquire.Analysis.Drift;
using Acquire.Analysis.History;
using Acquire.Bench.History;
using Acquire.Domain.Books;
using Acquire.Domain.Lots;

namespace Acquire.Bench.Reports;

/// <summary>What history and books add to the causes of one strip. What they do not know is left out.</summary>
internal static class StripCircumstances
{
    /// <summary>Gathers it.</summary>
    /// <param name="history">The strips.</param>
    /// <param name="index">Which of them.</param>
    /// <param name="lot">Its lot; null when it is not in the store.</param>
    public static CauseContext Of(StripHistory history, int index, StripLot? lot)
    {
        var (strip, record) = (history.Strips[index], history.Records[index]);
        StripPoint[] until = [.. history.Strips.Take(index + 1).Where(s => string.Equals(s.Line, strip.Line, StringComparison.OrdinalIgnoreCase))];
        var before = until.Length > 1 ? until[^2].At : DateTimeOffset.MinValue;
        bool IsSince(BookEventKind kind) => history.Books.Events.Any(e => e.Kind == kind && e.HappenedAt > before && e.HappenedAt <= strip.At);
        var stock = history.Books.StockAt(strip.Lot, strip.At);
        return new CauseContext
        {
            Shape = Shape(until, history),
            CheckLacking = record.CheckLacking is not null || (record.Provenance.Instrument is not null && record.CheckId is null),
            LotExpired = lot?.IsExpiredOn(DateOnly.FromDateTime(strip.At.DateTime)) ?? false,
            Thaws = stock.IsKept ? stock.Thaws : null,
            NewMix = IsSince(BookEventKind.NewMix) || history.Books.Bottles.Any(b => b.HappenedAt > before && b.HappenedAt <= strip.At),
            Repaired = IsSince(BookEventKind.Repair),
            AgeDays = strip.AgeDays,
            RollsPerLitre = strip.AreaPerLitre / FilmFormat.Roll,
        };
    }

    /// <summary>How it came to where it is: the largest movement that goes on at this strip.</summary>
    private static DriftShape? Shape(StripPoint[] until, StripHistory history) =>
        DriftStudy.Of(HistorySeries.Of(until), key => history.Sheet.Find(key)?.Name ?? key).Findings
            .Where(f => f.IsLatest && !f.IsNotice).MaxBy(f => Math.Abs(f.Step))?.Shape;
}
