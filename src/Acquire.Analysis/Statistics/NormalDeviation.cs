using MathNet.Numerics;

namespace Acquire.Analysis.Statistics;

/// <summary>The sample standard deviation of n independent standard normal numbers.</summary>
public static class NormalDeviation
{
    /// <summary>Its mean, the c4 of control-chart tables: √(2 / (n − 1)) Γ(n / 2) / Γ((n − 1) / 2).</summary>
    /// <exception cref="ArgumentOutOfRangeException">n is below 2.</exception>
    public static double C4(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 2);
        return Math.Sqrt(2.0 / (n - 1)) * Math.Exp(SpecialFunctions.GammaLn(n / 2.0) - SpecialFunctions.GammaLn((n - 1) / 2.0));
    }
}
