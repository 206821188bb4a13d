using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>
/// Chart of the means of equal subgroups, sigma from their ranges (Shewhart; constants by quadrature, see
/// <see cref="NormalRange"/>).
/// </summary>
/// <param name="Centre">Mean of the baseline means.</param>
/// <param name="Sigma">Standard deviation of a single value, R̄/d2.</param>
/// <param name="MeanScatter">R̄ of the baseline.</param>
/// <param name="ScatterUpper">Upper limit of a range, D4 R̄.</param>
/// <param name="Size">Values in a subgroup.</param>
/// <param name="Means">Mean of every subgroup, the baseline first.</param>
public sealed record SubgroupChart(double Centre, double Sigma, double MeanScatter, double ScatterUpper, int Size, ImmutableArray<double> Means)
{
    /// <summary>Standard deviation of a subgroup mean.</summary>
    public double SigmaOfMean => Sigma / Math.Sqrt(Size);

    /// <summary>Centre − 3 standard deviations of a mean.</summary>
    public double Lower => Centre - (3 * SigmaOfMean);

    /// <summary>Centre + 3 standard deviations of a mean.</summary>
    public double Upper => Centre + (3 * SigmaOfMean);

    /// <summary>Every mean in standard deviations from the centre, for the run rules.</summary>
    public IEnumerable<double> Standardized => Means.Select(m => (m - Centre) / SigmaOfMean);

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

    private static int SizeOf(IReadOnlyList<IReadOnlyList<double>> groups, int baseline)
    {
        ArgumentNullException.ThrowIfNull(groups);
        return baseline < 1 || baseline > groups.Count || groups.Any(g => g.Count != groups[0].Count) || groups[0].Count < 2
            ? throw new ArgumentException("A subgroup chart needs a baseline, and subgroups of one size, two values at least.", nameof(groups))
            : groups[0].Count;
    }
}
