namespace Acquire.Analysis.Statistics;

/// <summary>Two standard deviations compared by the F test of their variances.</summary>
/// <param name="F">First variance over second.</param>
/// <param name="FirstFreedom">Degrees of freedom of the first.</param>
/// <param name="SecondFreedom">Degrees of freedom of the second.</param>
/// <param name="PLarger">Chance of an F this large or larger when both scatter alike.</param>
/// <param name="P">Chance of an F this far out on either side when both scatter alike; 1 at most.</param>
public readonly record struct VarianceRatio(double F, int FirstFreedom, int SecondFreedom, double PLarger, double P)
{
    /// <summary>Compares (NIST/SEMATECH e-Handbook 1.3.5.9).</summary>
    /// <param name="first">First standard deviation, above 0.</param>
    /// <param name="firstFreedom">Its degrees of freedom, 1 at least.</param>
    /// <param name="second">Second standard deviation, above 0, in the same unit.</param>
    /// <param name="secondFreedom">Its degrees of freedom, 1 at least.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static VarianceRatio Of(double first, int firstFreedom, double second, int secondFreedom)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(first);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(second);
        ArgumentOutOfRangeException.ThrowIfLessThan(firstFreedom, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(secondFreedom, 1);
        var ratio = first / second;
        var larger = Quantiles.FisherTail(ratio * ratio, firstFreedom, secondFreedom);
        return new VarianceRatio(ratio * ratio, firstFreedom, secondFreedom, larger, 2 * Math.Min(larger, 1 - larger));
    }
}
