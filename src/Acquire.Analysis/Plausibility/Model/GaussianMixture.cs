using System.Collections.Immutable;

namespace Acquire.Analysis.Plausibility.Model;

/// <summary>What a hypothesis expects the instrument to show: the marginal likelihood in closed form.</summary>
/// <remarks>Rasmussen and Williams, <i>Gaussian Processes for Machine Learning</i>, equation 2.30, for each part.</remarks>
internal sealed class GaussianMixture(ImmutableArray<MixturePart> parts)
{
    /// <summary>Logarithm of the density of these values.</summary>
    public double LogDensity(double[] values)
    {
        var logs = parts.Select(p => p.LogDensity(values)).ToArray();
        var largest = logs.Max();
        return double.IsNegativeInfinity(largest) ? largest : largest + Math.Log(logs.Sum(l => Math.Exp(l - largest)));
    }
}
