namespace Acquire.Analysis.Statistics;

/// <summary>One-way analysis of variance: do groups of readings differ by more than the scatter inside them?</summary>
/// <param name="Between">Squares of the group means about the mean of all readings.</param>
/// <param name="Within">Squares of the readings about their group's mean.</param>
/// <param name="GroupSize">
/// Readings in a group; with unequal groups n₀ = (N − Σ nᵢ²/N) / (a − 1), the size that makes the components unbiased. 0 with one group.
/// </param>
public sealed record OneWay(SquaresRow Between, SquaresRow Within, double GroupSize)
{
    /// <summary>All readings about their mean.</summary>
    public SquaresRow Total => Between + Within;

    /// <summary>Mean square between over mean square within; null when either is missing or there is no scatter within.</summary>
    public double? F => Within.MeanSquare is > 0 and { } within ? Between.MeanSquare / within : null;

    /// <summary>Chance of an F this large when groups do not differ; null without F.</summary>
    public double? P => F is { } f ? Quantiles.FisherTail(f, Between.DegreesOfFreedom, Within.DegreesOfFreedom) : null;

    /// <summary>Variance within and between groups; null when there is one group only, or no group has two readings.</summary>
    public VarianceComponents? Components => VarianceComponents.Of(Between, Within, GroupSize);

    /// <summary>Analyses readings.</summary>
    /// <param name="groups">The readings of each group; groups may differ in size.</param>
    /// <exception cref="ArgumentException">There is no group, a group is empty, or a number is not finite.</exception>
    public static OneWay Of(IEnumerable<IReadOnlyList<double>> groups) => Of([.. groups.Select(Summary.Of)]);

    /// <summary>Analyses groups of which only count, mean and standard deviation are known.</summary>
    /// <exception cref="ArgumentException">There is no group.</exception>
    public static OneWay Of(IReadOnlyList<Summary> groups)
    {
        ArgumentNullException.ThrowIfNull(groups);
        if (groups.Count == 0)
        {
            throw new ArgumentException("An analysis of variance needs one group at least.", nameof(groups));
        }

        var total = groups.Sum(g => g.Count);
        var within = Sum(groups, g => (g.Count - 1) * (g.StandardDeviation ?? 0) * (g.StandardDeviation ?? 0));

        // Distances from the first mean, so that a large common part is gone before anything is squared.
        var first = groups[0].Mean;
        var shift = Sum(groups, g => g.Count * (g.Mean - first)) / total;
        var between = Sum(groups, g => g.Count * (g.Mean - first - shift) * (g.Mean - first - shift));
        var size = groups.Count > 1 ? (total - (Sum(groups, g => (double)g.Count * g.Count) / total)) / (groups.Count - 1) : 0;
        return new OneWay(new SquaresRow(between, groups.Count - 1), new SquaresRow(within, total - groups.Count), size);
    }

    /// <summary>
    /// Analyses of several things taken together, what lies between the things left out: placements within patches, for example.
    /// </summary>
    /// <exception cref="ArgumentException">There is no analysis.</exception>
    public static OneWay Nested(IReadOnlyList<OneWay> parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        if (parts.Count == 0)
        {
            throw new ArgumentException("There is nothing to take together.", nameof(parts));
        }

        var between = parts.Select(p => p.Between).Aggregate((a, b) => a + b);
        var within = parts.Select(p => p.Within).Aggregate((a, b) => a + b);
        var size = between.DegreesOfFreedom == 0 ? 0 : parts.Sum(p => p.GroupSize * p.Between.DegreesOfFreedom) / between.DegreesOfFreedom;
        return new OneWay(between, within, size);
    }

    private static double Sum(IReadOnlyList<Summary> groups, Func<Summary, double> term)
    {
        var sum = default(CompensatedSum);
        foreach (var group in groups)
        {
            sum.Add(term(group));
        }

        return sum.Value;
    }
}
