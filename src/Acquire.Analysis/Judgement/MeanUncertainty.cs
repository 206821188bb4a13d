using Acquire.Analysis.Gauge;
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
    /// <param name="scatter">How one read scatters at the mean's density.</param>
    /// <param name="reads">How many reads stand behind the mean, where that is more than it says.</param>
    /// <param name="step">The display step behind the mean, where it is coarser than the mean's own.</param>
    public static MeanUncertainty Of(PatchMean mean, ReadScatter scatter, int? reads = null, double? step = null)
    {
        var (count, resolution) = (reads ?? mean.Reads, Math.Max(step ?? 0, mean.Resolution));
        return new MeanUncertainty(
            Math.Sqrt(scatter.VarianceOfMean(count, resolution)),
            new UncertaintyBasis(scatter, resolution, scatter.HidesBelow(resolution), count));
    }
}

/// <summary>What the uncertainty of a patch mean rests on, so that a table can say it.</summary>
/// <param name="Scatter">How one re-placed read scatters there, as far as it is known.</param>
/// <param name="Resolution">Display step, in density.</param>
/// <param name="ResolutionAdded">Whether the display step was added by itself (d²/12). It was not where the reads scatter by
/// half a step or more, for then the scatter contains it.</param>
/// <param name="Reads">How many reads the mean is of.</param>
public sealed record UncertaintyBasis(ReadScatter Scatter, double Resolution, bool ResolutionAdded, int Reads)
{
    /// <summary>The part of the mean's variance that the display's last digit makes; more reads do not bring it down.</summary>
    internal double StepVariance => ResolutionAdded ? Resolution * Resolution / 12 : 0;

    /// <summary>The mean's variance as far as it was seen: of a scatter that is assumed, the display step alone.</summary>
    internal double LeastVariance => Scatter.IsAssumed ? Resolution * Resolution / 12 : StepVariance + ReadVariance;

    /// <summary>The part that the scatter of reads makes.</summary>
    internal double ReadVariance => Scatter.StandardDeviation * Scatter.StandardDeviation / Reads;
}

/// <summary>How well reads were seen to repeat, in each channel: the strip's own, and those of the instrument's repeatability test. What
/// uncertainties rest on is <see cref="InstrumentKnowledge"/>.</summary>
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
