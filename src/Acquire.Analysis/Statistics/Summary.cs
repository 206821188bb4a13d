namespace Acquire.Analysis.Statistics;

/// <summary>Count, mean and sample standard deviation of some numbers, all in the unit of the numbers.</summary>
/// <param name="Count">How many numbers, 1 at least.</param>
/// <param name="Mean">Arithmetic mean.</param>
/// <param name="StandardDeviation">Sample standard deviation (divisor n − 1); null with one number.</param>
public readonly record struct Summary(int Count, double Mean, double? StandardDeviation)
{
    /// <summary>Summarises numbers.</summary>
    /// <remarks>
    /// Two passes, compensated, on the distances from the first number: a large common part is gone before anything is squared,
    /// and numbers that are all alike have a deviation of exactly 0.
    /// </remarks>
    /// <exception cref="ArgumentException">There are no numbers, or one is not finite.</exception>
    public static Summary Of(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count == 0 || !values.All(double.IsFinite))
        {
            throw new ArgumentException("A summary needs one number at least, and finite numbers only.", nameof(values));
        }

        var first = values[0];
        var shift = values.Sum(v => v - first) / values.Count;
        return new Summary(values.Count, first + shift, Deviation(values, first, shift));
    }

    private static double? Deviation(IReadOnlyList<double> values, double first, double shift)
    {
        if (values.Count == 1)
        {
            return null;
        }

        // The second sum is 0 but for rounding; taking its part away corrects for the rounding of the mean.
        var squares = values.Sum(v => (v - first - shift) * (v - first - shift));
        var residue = values.Sum(v => v - first - shift);
        return Math.Sqrt(Math.Max(0, squares - (residue * residue / values.Count)) / (values.Count - 1));
    }
}

file static class Sums
{
    public static double Sum(this IReadOnlyList<double> values, Func<double, double> term)
    {
        var sum = default(CompensatedSum);
        foreach (var value in values)
        {
            sum.Add(term(value));
        }

        return sum.Value;
    }
}
