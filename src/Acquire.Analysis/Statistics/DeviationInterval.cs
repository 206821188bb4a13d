namespace Acquire.Analysis.Statistics;

/// <summary>Where the true standard deviation lies, by the scatter of a few readings; in the unit of the readings.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct DeviationInterval(double Low, double High)
{
    /// <summary>
    /// The two-sided interval s√(ν/χ²) of a normal standard deviation, the same chance left out on either side
    /// (NIST/SEMATECH e-Handbook 1.3.5.8 and 7.2.3.1).
    /// </summary>
    /// <param name="standardDeviation">Sample standard deviation s, 0 at least.</param>
    /// <param name="degreesOfFreedom">ν, 1 at least.</param>
    /// <param name="confidence">Between 0 and 1, such as 0.95.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static DeviationInterval Of(double standardDeviation, int degreesOfFreedom, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(standardDeviation);
        ArgumentOutOfRangeException.ThrowIfLessThan(degreesOfFreedom, 1);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(confidence, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        double At(double probability) =>
            standardDeviation * Math.Sqrt(degreesOfFreedom / Quantiles.ChiSquare(probability, degreesOfFreedom));
        return new DeviationInterval(At((1 + confidence) / 2), At((1 - confidence) / 2));
    }
}
