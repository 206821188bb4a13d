namespace Acquire.Analysis.Statistics;

/// <summary>One standard deviation out of several groups that share it: the repeatability of an instrument over patches.</summary>
/// <param name="StandardDeviation">Root of the mean variance, each group weighted by its degrees of freedom.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of all groups together, 1 at least.</param>
public readonly record struct PooledDeviation(double StandardDeviation, int DegreesOfFreedom)
{
    /// <summary>Pools groups: s² = Σ νᵢ sᵢ² / Σ νᵢ (NIST/SEMATECH e-Handbook 2.4.4.1).</summary>
    /// <param name="groups">Standard deviation and degrees of freedom of each group; groups of no freedom tell nothing.</param>
    /// <returns>The pooled deviation; null when no group has a degree of freedom.</returns>
    public static PooledDeviation? Of(IEnumerable<(double StandardDeviation, int DegreesOfFreedom)> groups)
    {
        var squares = default(CompensatedSum);
        var freedom = 0;
        foreach (var (deviation, degrees) in groups.Where(g => g.DegreesOfFreedom > 0))
        {
            squares.Add(degrees * deviation * deviation);
            freedom += degrees;
        }

        return freedom > 0 ? new PooledDeviation(Math.Sqrt(squares.Value / freedom), freedom) : null;
    }
}

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

/// <summary>
/// A sum that carries the bits each addition loses (Neumaier, <i>Z. Angew. Math. Mech.</i> 54, 1974), so that it is as good as if
/// it had been added in twice the precision.
/// </summary>
internal struct CompensatedSum
{
    private double _sum;
    private double _lost;

    public readonly double Value => _sum + _lost;

    public void Add(double term)
    {
        var next = _sum + term;
        _lost += Math.Abs(_sum) >= Math.Abs(term) ? _sum - next + term : term - next + _sum;
        _sum = next;
    }
}
