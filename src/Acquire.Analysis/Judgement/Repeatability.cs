using System.Collections.Immutable;
using Acquire.Analysis.Statistics;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Strips;

namespace Acquire.Analysis.Judgement;

/// <summary>How well the reads of one strip repeat, in each channel.</summary>
public static class Repeatability
{
    /// <summary>Pools the standard deviations of all patches, channel by channel; ν = Σ (nᵢ − 1).</summary>
    /// <param name="means">The patch means of one strip.</param>
    /// <returns>The repeatability standard deviation, in density; a channel in which no patch was read twice is absent.</returns>
    public static ImmutableDictionary<Channel, PooledDeviation> Of(IEnumerable<PatchMean> means) => means
        .GroupBy(m => m.Channel)
        .Select(g => (Channel: g.Key, Pooled: PooledDeviation.Of(g.Select(m => (m.StandardDeviation ?? 0, m.Reads - 1)))))
        .Where(p => p.Pooled is not null)
        .ToImmutableDictionary(p => p.Channel, p => p.Pooled!.Value);
}
