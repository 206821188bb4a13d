using Acquire.Analysis.Control;

namespace Acquire.Analysis.Charts;

/// <summary>Which strips a line joins.</summary>
internal static class JoinedRuns
{
    /// <summary>
    /// A pause this many times the usual one breaks the line: nothing is known of the process meanwhile (common practice, no source).
    /// </summary>
    private const double LongPause = 10;

    /// <summary>No pause shorter than this, in days, breaks the line.</summary>
    private const double ShortPause = 14;

    /// <summary>The number of the run that each strip belongs to.</summary>
    /// <param name="sorted">Strips by their place.</param>
    /// <param name="axis">The axis.</param>
    public static int[] Of(IReadOnlyList<StripPoint> sorted, ChartAxis axis) => axis == ChartAxis.Date ? ByTime(sorted) : ByBottle(sorted);

    /// <summary>By date: points after a crossover are held against other aims, so that no line leads across it.</summary>
    private static int[] ByTime(IReadOnlyList<StripPoint> sorted)
    {
        var pauses = sorted.Zip(sorted.Skip(1), (a, b) => (b.At - a.At).TotalDays).Order().ToList();
        var longest = pauses.Count == 0 ? 0 : Math.Max(ShortPause, LongPause * pauses[(pauses.Count - 1) / 2]);
        var runs = new int[sorted.Count];
        for (var i = 1; i < runs.Length; i++)
        {
            var breaks = (sorted[i].At - sorted[i - 1].At).TotalDays > longest
                || !string.Equals(sorted[i].Lot, sorted[i - 1].Lot, StringComparison.OrdinalIgnoreCase);
            runs[i] = runs[i - 1] + (breaks ? 1 : 0);
        }

        return runs;
    }

    /// <summary>By age, opening or area: each mix in each bottle ages by itself.</summary>
    private static int[] ByBottle(IReadOnlyList<StripPoint> sorted)
    {
        var known = new Dictionary<(string? Solution, string? Bottle, string Lot), int>();
        return [.. sorted.Select(s =>
        {
            var key = (Upper(s.Solution), Upper(s.Bottle), s.Lot.ToUpperInvariant());
            return known.TryGetValue(key, out var run) ? run : known[key] = known.Count;
        })];
    }

    private static string? Upper(string? word) => word?.ToUpperInvariant();
}
