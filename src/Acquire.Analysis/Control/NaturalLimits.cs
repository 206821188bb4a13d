using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>What a process does by itself: centre and scatter of single values, from the mean moving range (NIST/SEMATECH e-Handbook
/// 6.3.2.2). They are not tolerances; a good process scatters well inside its action limits.</summary>
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
    /// <param name="resolution">Their step, in their unit; sigma is never taken below step/√12. Null when not known.</param>
    /// <returns>The limits; null with fewer than two values.</returns>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static NaturalLimits? Of(IReadOnlyList<double> values, double? resolution = null)
    {
        if (values.Count < 2)
        {
            return null;
        }

        var centre = Summary.Of(values).Mean;
        var mean = CompensatedSum.Of(values.Zip(values.Skip(1), (a, b) => Math.Abs(b - a))) / (values.Count - 1);
        return new NaturalLimits(centre, Math.Max(mean / D2OfTwo, (resolution ?? 0) / Math.Sqrt(12)), mean, values.Count);
    }

    /// <summary>How many sigmas a value lies from the centre; 0 where there is no scatter and the value is the centre.</summary>
    public double Standardize(double value) => value == Centre ? 0 : (value - Centre) / Sigma;
}

/// <summary>Chart of the means of equal subgroups, sigma from their ranges (Shewhart;
/// constants by quadrature, see <see cref="NormalRange"/>).</summary>
/// <param name="Centre">Mean of the baseline means.</param>
/// <param name="Sigma">Standard deviation of a single value, R̄/d2.</param>
/// <param name="MeanScatter">R̄ of the baseline.</param>
/// <param name="ScatterUpper">Upper limit of a range, D4 R̄.</param>
/// <param name="Size">Values in a subgroup.</param>
/// <param name="Means">Mean of every subgroup, the baseline first.</param>
public sealed record SubgroupChart(
    double Centre, double Sigma, double MeanScatter, double ScatterUpper, int Size, ImmutableArray<double> Means)
{
    /// <summary>Standard deviation of a subgroup mean.</summary>
    public double SigmaOfMean => Sigma / Math.Sqrt(Size);

    /// <summary>Centre − 3 standard deviations of a mean.</summary>
    public double Lower => Centre - (3 * SigmaOfMean);

    /// <summary>Centre + 3 standard deviations of a mean.</summary>
    public double Upper => Centre + (3 * SigmaOfMean);

    /// <summary>Every mean in standard deviations from the centre, for the run rules; none where nothing scatters.</summary>
    public IEnumerable<double> Standardized => Sigma > 0 ? Means.Select(m => (m - Centre) / SigmaOfMean) : [];

    /// <summary>Sigma from the ranges.</summary>
    /// <exception cref="ArgumentException">No baseline, or subgroups of unequal size or of fewer than two values.</exception>
    public static SubgroupChart ByRanges(IReadOnlyList<IReadOnlyList<double>> groups, int baseline)
    {
        var size = SizeOf(groups, baseline);
        var range = groups.Take(baseline).Average(g => g.Max() - g.Min());
        var d2 = NormalRange.D2(size);
        return Of(groups, baseline, range / d2, range, (1 + (3 * NormalRange.D3(size) / d2)) * range);
    }

    private static SubgroupChart Of(IReadOnlyList<IReadOnlyList<double>> groups, int baseline, double sigma, double scatter, double upper)
    {
        ImmutableArray<double> means = [.. groups.Select(g => Summary.Of(g).Mean)];
        return new SubgroupChart(Summary.Of([.. means.Take(baseline)]).Mean, sigma, scatter, upper, groups[0].Count, means);
    }

    private static int SizeOf(IReadOnlyList<IReadOnlyList<double>> groups, int baseline) =>
        baseline < 1 || baseline > groups.Count || groups.Any(g => g.Count != groups[0].Count) || groups[0].Count < 2
            ? throw new ArgumentException(
                "A subgroup chart needs a baseline, and subgroups of one size, two values at least.", nameof(groups))
            : groups[0].Count;
}

/// <summary>How much a value resembles the one before it. Where it does, run rules ring more often than their tables say.</summary>
public static class Autocorrelation
{
    /// <summary>Lag-1 autocorrelation, as the NIST Statistical Reference Datasets define it.</summary>
    /// <returns>−1 … 1; null with fewer than 3 values or without any scatter.</returns>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static double? Lag1(IReadOnlyList<double> values)
    {
        if (values.Count < 3)
        {
            return null;
        }

        var mean = Summary.Of(values).Mean;
        var squares = CompensatedSum.Of(values.Select(v => (v - mean) * (v - mean)));
        var products = CompensatedSum.Of(values.Zip(values.Skip(1), (a, b) => (b - mean) * (a - mean)));
        return squares > 0 ? products / squares : null;
    }

    /// <summary>Whether a lag-1 autocorrelation is more than chance: |r| above 1.96/√n (common large-sample rule).</summary>
    public static bool IsMoreThanChance(double lag1, int count) => Math.Abs(lag1) > 1.96 / Math.Sqrt(count);
}
