using MathNet.Numerics.Distributions;
using MathNet.Numerics.Integration;

namespace Acquire.Analysis.Statistics;

/// <summary>The range (largest minus smallest) of n independent standard normal numbers: its mean is the d2 of
/// control-chart tables, its standard deviation the d3.</summary>
/// <remarks>By quadrature of the distribution P(R ≤ w) = n ∫ φ(x) [Φ(x + w) − Φ(x)]ⁿ⁻¹ dx (Tippett,
/// <i>Biometrika</i> 17, 1925); good to nine decimals for n up to 100.</remarks>
public static class NormalRange
{
    /// <summary>Nothing that matters to the tenth decimal lies farther out than this, in standard deviations.</summary>
    private const double FarOut = 9;

    private const int Nodes = 128;

    /// <summary>Mean of the range of n numbers.</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is not 2 … 100.</exception>
    public static double D2(int n) => Tail(n, static _ => 1);

    /// <summary>Standard deviation of the range of n numbers.</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is not 2 … 100.</exception>
    public static double D3(int n)
    {
        var mean = D2(n);
        return Math.Sqrt(Tail(n, static w => 2 * w) - (mean * mean));
    }

    /// <summary>∫ g′(w) P(R &gt; w) dw, which is the mean of g(R) for g(0) = 0.</summary>
    private static double Tail(int n, Func<double, double> slope)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(n, 100);
        return GaussLegendreRule.Integrate(w => slope(w) * (1 - Probability(w, n)), 0, 2 * FarOut, Nodes);
    }

    private static double Probability(double width, int n) => GaussLegendreRule.Integrate(
        x => n * Normal.PDF(0, 1, x) * Math.Pow(Normal.CDF(0, 1, x + width) - Normal.CDF(0, 1, x), n - 1),
        -FarOut, FarOut, Nodes);
}
