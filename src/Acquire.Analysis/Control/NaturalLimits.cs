using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>
/// What a process does by itself: centre and scatter of single values, from the mean moving range (NIST/SEMATECH e-Handbook 6.3.2.2).
/// They are not tolerances; a good process scatters well inside its action limits.
/// </summary>
/// <param name="Centre">Mean of the values.</param>
/// <param name="Sigma">Mean moving range / d2, with the exact d2 = 2/√π; tables round it to 1.128.</param>
/// <param name="MeanMovingRange">Mean of |xᵢ − xᵢ₋₁|.</param>
/// <param name="Count">How many values, 2 at least.</param>
public sealed record NaturalLimits(double Centre, double Sigma, double MeanMovingRange, int Count)
{
    private static readonly double D2OfTwo = NormalRange.D2(2);
    private static readonly double D4OfTwo = 1 + (3 * NormalRange.D3(2) / D2OfTwo);

    /// <summary>Centre − 3 sigma.</summary>
    public double Lower => Centre - (3 * Sigma);

    /// <summary>Centre + 3 sigma.</summary>
    public double Upper => Centre + (3 * Sigma);

    /// <summary>Upper limit of a moving range, D4 · mean moving range.</summary>
    public double MovingRangeUpper => D4OfTwo * MeanMovingRange;

    /// <summary>Finds the limits of values in the order in which they arose.</summary>
    /// <param name="values">The values.</param>
    /// <param name="resolution">Their step, in their unit; sigma is never taken below step/√12. Null when not known.</param>
    /// <returns>The limits; null with fewer than two values.</returns>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static NaturalLimits? Of(IReadOnlyList<double> values, double? resolution = null)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count < 2)
        {
            return null;
        }

        var centre = Summary.Of(values).Mean;
        var sum = default(CompensatedSum);
        for (var i = 1; i < values.Count; i++)
        {
            sum.Add(Math.Abs(values[i] - values[i - 1]));
        }

        var mean = sum.Value / (values.Count - 1);
        return new NaturalLimits(centre, Math.Max(mean / D2OfTwo, (resolution ?? 0) / Math.Sqrt(12)), mean, values.Count);
    }

    /// <summary>How many sigmas a value lies from the centre; 0 where there is no scatter and the value is the centre.</summary>
    public double Standardize(double value) => value == Centre ? 0 : (value - Centre) / Sigma;
}
