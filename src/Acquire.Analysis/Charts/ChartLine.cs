using Acquire.Analysis.Control;

namespace Acquire.Analysis.Charts;

/// <summary>The strips of one parameter in one channel.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="Points">The strips that have a deviation, by their place on the axis, then in time.</param>
/// <param name="Missing">The strips that have none.</param>
/// <param name="Natural">
/// What the process does by itself, from the strips of the newest lot on the chart, in the order of time; null when they are fewer than
/// <see cref="LeastForNatural"/>.
/// </param>
public sealed record ChartLine(
    Channel? Channel, ImmutableArray<ChartPoint> Points, ImmutableArray<MissingPoint> Missing, NaturalLimits? Natural)
{
    /// <summary>With fewer strips natural limits say next to nothing (common practice, no source).</summary>
    public const int LeastForNatural = 8;

    /// <summary>The points that are joined, run by run.</summary>
    public IEnumerable<ImmutableArray<ChartPoint>> Runs => Points.GroupBy(p => p.Run).Select(g => g.ToImmutableArray());
}
