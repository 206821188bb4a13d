using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Judgement;

/// <summary>The standard uncertainty of a patch mean, and what it rests on.</summary>
/// <param name="StandardUncertainty">In density.</param>
/// <param name="Basis">What it rests on.</param>
public sealed record MeanUncertainty(double StandardUncertainty, UncertaintyBasis Basis)
{
    /// <summary>The uncertainty of a mean of n reads: u² = s²/n from the repeatability s, plus d²/12 for a display step of d (GUM, JCGM
    /// 100:2008, F.2.2.1), unless the reads scatter by half a step or more.</summary>
    /// <remarks>The step is counted once. Reads that scatter fall on several steps, so their scatter contains the rounding, which averages
    /// out with them; reads that repeat exactly are all rounded alike, and no number of them helps.</remarks>
    /// <param name="repeatability">Pooled repeatability in the mean's channel; null when nothing was read twice.</param>
    public static MeanUncertainty Of(PatchMean mean, PooledDeviation? repeatability)
    {
        var step = mean.Resolution;
        var deviation = repeatability?.StandardDeviation ?? 0;
        var added = !ScattersByHalfOf(step, deviation);
        var variance = (deviation * deviation / mean.Reads) + (added ? step * step / 12 : 0);
        return new MeanUncertainty(Math.Sqrt(variance), new UncertaintyBasis(repeatability, step, added, mean.Reads));
    }

    // Three equal reads and one a step away scatter by exactly half a step, which binary arithmetic may miss by a hair.
    private static bool ScattersByHalfOf(double step, double deviation) => deviation >= step / 2 * (1 - 1e-9);
}

/// <summary>What the uncertainty of a patch mean rests on, so that a table can say it.</summary>
/// <param name="Repeatability">Pooled repeatability of the strip in the channel; null when no patch was
/// read twice, and then the uncertainty is a lower bound.</param>
/// <param name="Resolution">Display step, in density.</param>
/// <param name="ResolutionAdded">Whether the display step was added by itself (d²/12). It was not where the reads scatter by
/// half a step or more, for then the scatter contains it.</param>
/// <param name="Reads">How many reads the mean is of.</param>
public sealed record UncertaintyBasis(PooledDeviation? Repeatability, double Resolution, bool ResolutionAdded, int Reads);

/// <summary>How well reads repeat, in each channel: the strip's own, and those of the instrument's repeatability test.</summary>
public static class Repeatability
{
    /// <summary>Pools the standard deviations of all patches, and of the test in force where there is one, channel
    /// by channel, each weighted by its degrees of freedom.</summary>
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

internal static class Lookup
{
    /// <summary>The value of a key, or null; the library's own look-up would give a zero that passes for a value.</summary>
    public static TValue? GetValueOrNull<TKey, TValue>(this ImmutableDictionary<TKey, TValue> values, TKey key)
        where TKey : notnull
        where TValue : struct => values.TryGetValue(key, out var value) ? value : null;
}
