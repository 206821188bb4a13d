using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Judgement;

/// <summary>What the uncertainty of a patch mean rests on, so that a table can say it.</summary>
/// <param name="Repeatability">Pooled repeatability of the strip in the channel; null when no patch was read twice.</param>
/// <param name="Resolution">Display step, in density.</param>
/// <param name="ResolutionAdded">
/// Whether the display step was added by itself (d²/12). It was not where the reads scatter by half a step or more, for then the
/// scatter contains it.
/// </param>
/// <param name="Reads">How many reads the mean is of.</param>
public sealed record UncertaintyBasis(PooledDeviation? Repeatability, double Resolution, bool ResolutionAdded, int Reads)
{
    /// <summary>Whether any repeated read tells how the instrument repeats. When not, the uncertainty is a lower bound.</summary>
    public bool RepeatabilityKnown => Repeatability is not null;
}
