namespace Acquire.Analysis.Plausibility;

/// <summary>What a hypothesis expects the instrument to show: the marginal likelihood in closed form.</summary>
/// <remarks>Rasmussen and Williams, <i>Gaussian Processes for Machine Learning</i>, equation 2.30, for each part.</remarks>
internal sealed class GaussianMixture(ImmutableArray<MixturePart> parts)
{
    /// <summary>What the logarithm of the density exceeds nowhere.</summary>
    public double LogBound { get; } = LogSum([.. parts.Select(p => p.LogBound)]);

    /// <summary>Logarithm of the density of these values.</summary>
    public double LogDensity(double[] values)
    {
        var logs = new double[parts.Length];
        for (var i = 0; i < logs.Length; i++)
        {
            logs[i] = parts[i].LogDensity(values);
        }

        return LogSum(logs);
    }

    private static double LogSum(double[] logs)
    {
        var largest = logs.Max();
        return double.IsNegativeInfinity(largest) ? largest : largest + Math.Log(logs.Sum(l => Math.Exp(l - largest)));
    }
}
