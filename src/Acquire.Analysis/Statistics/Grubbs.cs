namespace Acquire.Analysis.Statistics;

/// <summary>Grubbs' test for one outlier on either side. It names a reading and drops
/// nothing: a reading is left out by a person with a reason.</summary>
/// <param name="Index">Where in the list the reading farthest from the mean stands, from 0; the first of several equally far.</param>
/// <param name="G">Its distance from the mean, in standard deviations.</param>
/// <param name="Critical">The distance that chance exceeds with the significance asked for.</param>
/// <param name="P">Chance of a reading this far out or farther, an upper bound (exact while it is small); 1 at most.</param>
public readonly record struct Grubbs(int Index, double G, double Critical, double P)
{
    /// <summary>Whether the reading lies farther out than chance explains.</summary>
    public bool IsOutlier => G > Critical;

    /// <summary>Tests readings (F. E. Grubbs, <i>Technometrics</i> 11, 1969; NIST/SEMATECH e-Handbook 1.3.5.17.1).</summary>
    /// <param name="values">The readings, taken as normal and independent.</param>
    /// <param name="significance">Chance of naming a reading when none is out, both sides together.</param>
    /// <returns>The reading farthest out; null with fewer than 3 readings or when all are equal.</returns>
    public static Grubbs? Of(IReadOnlyList<double> values, double significance = 0.05)
    {
        if (values.Count < 3 || Summary.Of(values) is not { StandardDeviation: > 0 and { } deviation, Mean: var mean })
        {
            return null;
        }

        var index = Enumerable.Range(0, values.Count).MaxBy(i => Math.Abs(values[i] - mean));
        var distance = Math.Abs(values[index] - mean) / deviation;
        return new Grubbs(index, distance, CriticalValue(values.Count, significance), Chance(distance, values.Count));
    }

    /// <summary>(n − 1)/√n · √(t²/(n − 2 + t²)), t being exceeded with probability α/(2n) at n − 2 degrees of freedom.</summary>
    /// <param name="count">How many readings, 3 at least.</param>
    /// <param name="significance">α, both sides together.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public static double CriticalValue(int count, double significance = 0.05)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 3);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(significance, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(significance, 1);
        var t = Quantiles.Student(1 - (significance / (2 * count)), count - 2);
        return (count - 1) / Math.Sqrt(count) * Math.Sqrt(t * t / (count - 2 + (t * t)));
    }

    private static double Chance(double distance, int count)
    {
        // 0 at the largest distance that so many readings allow, (n − 1)/√n: then there is no t, and chance never does it.
        var left = ((count - 1.0) * (count - 1.0)) - (count * distance * distance);
        var t = Math.Sqrt(count * (count - 2.0) * distance * distance / left);
        return left <= 0 ? 0 : Math.Min(1, count * Quantiles.StudentTail(t, count - 2));
    }
}
