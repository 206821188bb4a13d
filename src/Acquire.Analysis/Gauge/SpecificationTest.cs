using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Is the scatter larger than accepted, or could chance have made it? χ² = ν s²/σ₀² against χ²(0.95; ν).</summary>
/// <param name="Sigma">The accepted standard deviation σ₀.</param>
/// <param name="ChiSquare">ν s²/σ₀².</param>
/// <param name="Critical">What χ² exceeds by chance once in twenty when the true deviation is σ₀.</param>
/// <param name="P">Chance of a χ² this large when the true deviation is σ₀.</param>
public sealed record SpecificationTest(double Sigma, double ChiSquare, double Critical, double P)
{
    /// <summary>
    /// Whether the test is passed: the scatter is not shown to be larger than accepted. With few reads that is weak praise, which is
    /// why the interval belongs beside it.
    /// </summary>
    public bool Passes => ChiSquare <= Critical;

    /// <summary>Tests (NIST/SEMATECH e-Handbook 7.2.3).</summary>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static SpecificationTest Of(double standardDeviation, int degreesOfFreedom, double sigma)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(standardDeviation);
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(sigma);
        var ratio = standardDeviation / sigma;
        var value = degreesOfFreedom * ratio * ratio;
        return new SpecificationTest(
            sigma, value, Quantiles.ChiSquare(0.95, degreesOfFreedom), Quantiles.ChiSquareTail(value, degreesOfFreedom));
    }
}
