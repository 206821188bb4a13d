using Acquire.Analysis.Control;

namespace Acquire.Analysis.Charts;

/// <summary>Natural limits of a line, and the rules its strips break.</summary>
internal static class LineSignals
{
    /// <summary>Finds the natural limits of the newest lot's strips; other lots have aims, and so levels, of their own.</summary>
    /// <param name="points">The points, in any order.</param>
    /// <param name="resolution">Step of a deviation; null when not known.</param>
    public static NaturalLimits? Limits(IEnumerable<ChartPoint> points, double? resolution) =>
        NewestLot(points) is { Count: >= ChartLine.LeastForNatural } newest
        ? NaturalLimits.Of([.. newest.Select(p => p.Deviation)], resolution)
        : null;

    /// <summary>Marks the newest lot's strips at which a Western Electric rule is broken.</summary>
    public static ImmutableArray<ChartPoint> Mark(ImmutableArray<ChartPoint> points, NaturalLimits? limits)
    {
        if (limits is not { Sigma: > 0 })
        {
            return points;
        }

        var newest = NewestLot(points);
        var broken = RunSignal.Find(newest.Select(p => limits.Standardize(p.Deviation)), RunRuleSets.WesternElectric)
            .ToLookup(s => newest[s.Index].StripId, s => s.Rule);
        return [.. points.Select(p => broken.Contains(p.StripId) ? p with { Signals = [.. broken[p.StripId]] } : p)];
    }

    private static List<ChartPoint> NewestLot(IEnumerable<ChartPoint> points)
    {
        var inTime = points.OrderBy(p => p.At).ThenBy(p => p.StripId).ToList();
        return inTime is [.., var last] ? inTime.FindAll(p => string.Equals(p.Lot, last.Lot, StringComparison.OrdinalIgnoreCase)) : [];
    }
}
