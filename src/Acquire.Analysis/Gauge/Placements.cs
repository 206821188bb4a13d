using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>
/// The reads of one patch in one channel, by placement of the film; a read without a placement is a placement of its own.
/// </summary>
internal sealed record Placements(string Patch, ImmutableArray<GaugeRead> Reads, ImmutableArray<Summary> Groups)
{
    public static Placements Of(RepeatabilityData data, string patch, Channel channel)
    {
        var reads = data.Of(patch, channel);
        var groups = reads
            .Select((read, i) => (read.Placement, Alone: read.Placement is null ? i : -1, Value: (double)read.Values[channel]))
            .GroupBy(r => (r.Placement, r.Alone), r => r.Value)
            .Select(g => Summary.Of([.. g]));
        return new Placements(patch, reads, [.. groups]);
    }

    public Summary Summarise(Channel channel) => Summary.Of([.. Reads.Select(r => (double)r.Values[channel])]);

    public OneWay Analyse() => OneWay.Of(Groups);

    /// <summary>
    /// The scatter of one re-placed read. Where placements were read several times the reads of one are no independent re-placements,
    /// so s² is the sum of the components; else every read counts alike.
    /// </summary>
    public static Scatter? ScatterOf(IReadOnlyList<OneWay> patches, int reads, double resolution)
    {
        var all = OneWay.Nested(patches);
        return (all.Components, all.Total) switch
        {
            ({ } c, _) => new Scatter(reads, c.DegreesOfFreedom, Math.Sqrt(c.Total), resolution, c),
            (null, { MeanSquare: { } square, DegreesOfFreedom: var freedom }) =>
                new Scatter(reads, freedom, Math.Sqrt(square), resolution, null),
            _ => null,
        };
    }

    /// <summary>Standard uncertainty of the patch's mean from the channel's scatter; reads of one placement share its placing.</summary>
    public double UncertaintyOfMean(Scatter scatter)
    {
        double n = Reads.Length;
        var variance = scatter.Components is { } c
            ? (c.Within / n) + (c.Between * Groups.Sum(g => (double)g.Count * g.Count) / (n * n)) + scatter.Rounding
            : scatter.VarianceOfMean(n);
        return Math.Sqrt(variance);
    }
}
