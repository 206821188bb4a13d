namespace Acquire.Analysis.Statistics;

/// <summary>Count, mean and sample standard deviation of some numbers, all in the unit of the numbers.</summary>
/// <param name="Count">How many numbers, 1 at least.</param>
/// <param name="StandardDeviation">Sample standard deviation (divisor n − 1); null with one number.</param>
public readonly record struct Summary(int Count, double Mean, double? StandardDeviation)
{
    /// <summary>Summarises numbers.</summary>
    /// <remarks>Two passes, compensated, on the distances from the first number: a large common part is gone before anything is squared,
    /// and numbers that are all alike have a deviation of exactly 0.</remarks>
    /// <exception cref="ArgumentException">There are no numbers, or one is not finite.</exception>
    public static Summary Of(IReadOnlyList<double> values)
    {
        if (values.Count == 0 || !values.All(double.IsFinite))
        {
            throw new ArgumentException("A summary needs one number at least, and finite numbers only.", nameof(values));
        }

        var first = values[0];
        var shift = CompensatedSum.Of(values.Select(v => v - first)) / values.Count;
        return new Summary(values.Count, first + shift, Deviation(values, first, shift));
    }

    private static double? Deviation(IReadOnlyList<double> values, double first, double shift)
    {
        if (values.Count == 1)
        {
            return null;
        }

        // The second sum is 0 but for rounding; taking its part away corrects for the rounding of the mean.
        var squares = CompensatedSum.Of(values.Select(v => (v - first - shift) * (v - first - shift)));
        var residue = CompensatedSum.Of(values.Select(v => v - first - shift));
        return Math.Sqrt(Math.Max(0, squares - (residue * residue / values.Count)) / (values.Count - 1));
    }
}

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
        var telling = groups.Where(g => g.DegreesOfFreedom > 0).ToList();
        var squares = CompensatedSum.Of(telling.Select(g => g.DegreesOfFreedom * g.StandardDeviation * g.StandardDeviation));
        var freedom = telling.Sum(g => g.DegreesOfFreedom);
        return freedom > 0 ? new PooledDeviation(Math.Sqrt(squares / freedom), freedom) : null;
    }
}

/// <summary>Where the true standard deviation lies, by the scatter of a few readings; in the unit of the readings.</summary>
/// <param name="Low">Lower end.</param>
/// <param name="High">Upper end.</param>
public readonly record struct DeviationInterval(double Low, double High)
{
    /// <summary>The two-sided interval s√(ν/χ²) of a normal standard deviation, the same chance left out on either
    /// side (NIST/SEMATECH e-Handbook 1.3.5.8 and 7.2.3.1).</summary>
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

/// <summary>A sum that carries the bits each addition loses (Neumaier, <i>Z. Angew. Math. Mech.</i> 54, 1974), so that it is as
/// good as if it had been added in twice the precision.</summary>
internal struct CompensatedSum
{
    private double _sum;
    private double _lost;

    public readonly double Value => _sum + _lost;

    public static double Of(IEnumerable<double> terms)
    {
        var sum = default(CompensatedSum);
        foreach (var term in terms)
        {
            sum.Add(term);
        }

        return sum.Value;
    }

    public void Add(double term)
    {
        var next = _sum + term;
        _lost += Math.Abs(_sum) >= Math.Abs(term) ? _sum - next + term : term - next + _sum;
        _sum = next;
    }
}

/// <summary>Two standard deviations compared by the F test of their variances.</summary>
/// <param name="F">First variance over second.</param>
/// <param name="PLarger">Chance of an F this large or larger when both scatter alike.</param>
/// <param name="P">Chance of an F this far out on either side when both scatter alike; 1 at most.</param>
public readonly record struct VarianceRatio(double F, double PLarger, double P)
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
        return new VarianceRatio(ratio * ratio, larger, 2 * Math.Min(larger, 1 - larger));
    }
}
