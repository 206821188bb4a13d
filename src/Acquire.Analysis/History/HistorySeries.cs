namespace Acquire.Analysis.History;

/// <summary>The deviations of a history, series by series.</summary>
public static class HistorySeries
{
    /// <summary>One series for each parameter and channel that has a deviation, in the order of the strips.</summary>
    public static ImmutableDictionary<SeriesKey, ImmutableArray<SeriesEntry>> Of(IEnumerable<StripPoint> strips) => strips
        .SelectMany(s => s.Judgement.Results, (strip, result) => (strip, result))
        .Where(p => p.result.Deviation is not null)
        .GroupBy(p => new SeriesKey(p.result.Parameter.Key, p.result.Channel))
        .ToImmutableDictionary(
            g => g.Key,
            g => g.Select(p => new SeriesEntry(p.strip, p.result.Deviation!.Value, p.result.ReadingUncertainty ?? 0)).ToImmutableArray());
}
