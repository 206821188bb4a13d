using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Judgement;

/// <summary>How well reads repeat, in each channel: the strip's own, and those of the instrument's repeatability test.</summary>
public static class Repeatability
{
    /// <summary>
    /// Pools the standard deviations of all patches, and of the test in force where there is one, channel by channel, each weighted by its
    /// degrees of freedom.
    /// </summary>
    /// <param name="means">The patch means of one strip.</param>
    /// <param name="inForce">What the instrument's repeatability test told; null when there was none.</param>
    /// <returns>The repeatability standard deviation, in density; a channel of which no repeated read is known is absent.</returns>
    public static ImmutableDictionary<Channel, PooledDeviation> Of(IEnumerable<PatchMean> means, RepeatabilityInForce? inForce = null) =>
        means
        .Select(m => (m.Channel, Deviation: m.StandardDeviation ?? 0, Freedom: m.Reads - 1))
        .Concat(inForce?.Channels.Select(c => (c.Channel, Deviation: c.StandardDeviation, Freedom: c.DegreesOfFreedom)) ?? [])
        .GroupBy(s => s.Channel)
        .Select(g => (Channel: g.Key, Pooled: PooledDeviation.Of(g.Select(s => (s.Deviation, s.Freedom)))))
        .Where(p => p.Pooled is not null)
        .ToImmutableDictionary(p => p.Channel, p => p.Pooled!.Value);
}
