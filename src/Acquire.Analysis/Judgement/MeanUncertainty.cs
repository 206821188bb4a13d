using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Judgement;

/// <summary>The standard uncertainty of a patch mean, and what it rests on.</summary>
/// <param name="StandardUncertainty">In density.</param>
/// <param name="Basis">What it rests on.</param>
public sealed record MeanUncertainty(double StandardUncertainty, UncertaintyBasis Basis)
{
    /// <summary>
    /// The uncertainty of a mean of n reads: u² = s²/n from the repeatability s, plus d²/12 for a display step of d
    /// (GUM, JCGM 100:2008, F.2.2.1), unless the reads scatter by half a step or more.
    /// </summary>
    /// <remarks>
    /// The step is counted once. Reads that scatter fall on several steps, so their scatter contains the rounding, which averages out
    /// with them; reads that repeat exactly are all rounded alike, and no number of them helps.
    /// </remarks>
    /// <param name="mean">The mean.</param>
    /// <param name="repeatability">Pooled repeatability in the mean's channel; null when nothing was read twice.</param>
    public static MeanUncertainty Of(PatchMean mean, PooledDeviation? repeatability)
    {
        ArgumentNullException.ThrowIfNull(mean);
        var step = mean.Resolution;
        var deviation = repeatability?.StandardDeviation ?? 0;
        var added = !ScattersByHalfOf(step, deviation);
        var variance = (deviation * deviation / mean.Reads) + (added ? step * step / 12 : 0);
        return new MeanUncertainty(Math.Sqrt(variance), new UncertaintyBasis(repeatability, step, added, mean.Reads));
    }

    // Three equal reads and one a step away scatter by exactly half a step, which binary arithmetic may miss by a hair.
    private static bool ScattersByHalfOf(double step, double deviation) => deviation >= step / 2 * (1 - 1e-9);
}
