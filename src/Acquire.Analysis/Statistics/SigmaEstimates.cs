using MathNet.Numerics;

namespace Acquire.Analysis.Statistics;

/// <summary>The standard deviation of one value by the ways that books know; they differ where the values do not scatter about one mean.
/// Each null where there is not enough to estimate it from.</summary>
/// <param name="Overall">s of all values over c4: what the values scatter in the long run.</param>
/// <param name="MovingRange">Mean moving range over d2: what follows each other.</param>
/// <param name="Pooled">Pooled s of the groups over c4 of ν + 1: what lies within groups.</param>
/// <param name="Ranges">Mean range of the groups over d2, for equal groups of up to 100.</param>
/// <param name="Deviations">Mean s of the groups over c4, for equal groups.</param>
public sealed record SigmaEstimates(double? Overall, double? MovingRange, double? Pooled, double? Ranges, double? Deviations)
{
    private const int LargestGroup = 100;

    /// <summary>Mean of s over σ for n normal numbers: √(2/(n − 1)) Γ(n/2)/Γ((n − 1)/2) (ASTM MNL 7).</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is less than 2.</exception>
    public static double C4(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 2);
        return Math.Sqrt(2.0 / (n - 1)) * Math.Exp(SpecialFunctions.GammaLn(n / 2.0) - SpecialFunctions.GammaLn((n - 1) / 2.0));
    }

    /// <summary>Estimates.</summary>
    /// <param name="values">All values in their order, one at least.</param>
    /// <param name="groups">The same by groups; empty when there are none.</param>
    public static SigmaEstimates Of(IReadOnlyList<double> values, IReadOnlyList<IReadOnlyList<double>> groups)
    {
        var summaries = groups.Select(Summary.Of).ToList();
        var size = groups.Count > 1 && groups.All(g => g.Count == groups[0].Count) && groups[0].Count > 1 ? groups[0].Count : 0;
        return new SigmaEstimates(
            Summary.Of(values).StandardDeviation / C4(Math.Max(2, values.Count)),
            values.Count > 1 ? values.Zip(values.Skip(1), (a, b) => Math.Abs(b - a)).Average() / NormalRange.D2(2) : null,
            PooledDeviation.Of(summaries.Select(g => (g.StandardDeviation ?? 0, g.Count - 1))) is { } pooled
                ? pooled.StandardDeviation / C4(pooled.DegreesOfFreedom + 1) : null,
            size is > 0 and <= LargestGroup ? groups.Average(g => g.Max() - g.Min()) / NormalRange.D2(size) : null,
            size > 0 ? summaries.Average(g => g.StandardDeviation!.Value) / C4(size) : null);
    }
}
