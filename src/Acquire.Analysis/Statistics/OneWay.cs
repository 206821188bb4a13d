namespace Acquire.Analysis.Statistics;

/// <summary>One-way analysis of variance: do groups of readings differ by more than the scatter inside them?</summary>
/// <param name="Between">Squares of the group means about the mean of all readings.</param>
/// <param name="Within">Squares of the readings about their group's mean.</param>
/// <param name="GroupSize">Readings in a group; with unequal groups n₀ = (N − Σ nᵢ²/N) / (a − 1), the size
/// that makes the components unbiased. 0 with one group.</param>
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

    /// <summary>Analyses of several things taken together, what lies between the
    /// things left out: placements within patches, for example.</summary>
    /// <exception cref="ArgumentException">There is no analysis.</exception>
    public static OneWay Nested(IReadOnlyList<OneWay> parts)
    {
        if (parts.Count == 0)
        {
            throw new ArgumentException("There is nothing to take together.", nameof(parts));
        }

        var between = parts.Select(p => p.Between).Aggregate((a, b) => a + b);
        var within = parts.Select(p => p.Within).Aggregate((a, b) => a + b);
        var size = between.DegreesOfFreedom == 0 ? 0 : parts.Sum(p => p.GroupSize * p.Between.DegreesOfFreedom) / between.DegreesOfFreedom;
        return new OneWay(between, within, size);
    }

    private static double Sum(IReadOnlyList<Summary> groups, Func<Summary, double> term) => CompensatedSum.Of(groups.Select(term));
}

/// <summary>One line of an analysis of variance.</summary>
/// <param name="SumOfSquares">In the square of the readings' unit.</param>
/// <param name="DegreesOfFreedom">0 at least.</param>
public readonly record struct SquaresRow(double SumOfSquares, int DegreesOfFreedom)
{
    /// <summary>Sum of squares over degrees of freedom; null without freedom.</summary>
    public double? MeanSquare => DegreesOfFreedom > 0 ? SumOfSquares / DegreesOfFreedom : null;

    /// <summary>Both rows together.</summary>
    public static SquaresRow operator +(SquaresRow left, SquaresRow right) =>
        new(left.SumOfSquares + right.SumOfSquares, left.DegreesOfFreedom + right.DegreesOfFreedom);
}

/// <summary>The variance of one reading, split by its causes; variances are in the square of the readings' unit.</summary>
/// <param name="Within">Variance of readings inside a group.</param>
/// <param name="Between">Variance from group to group, beyond what the scatter inside makes; 0 at least.</param>
/// <param name="BetweenFloored">Whether the estimate came out below 0 and was set to
/// 0: the groups differ less than chance would have it.</param>
/// <param name="DegreesOfFreedom">Of the sum of both, after Satterthwaite (<i>Biometrics Bulletin</i> 2, 1946), cut to a
/// whole number (GUM, JCGM 100:2008, G.4.1); 1 at least.</param>
public sealed record VarianceComponents(double Within, double Between, bool BetweenFloored, int DegreesOfFreedom)
{
    /// <summary>Variance of one reading of a group taken at random.</summary>
    public double Total => Within + Between;

    internal static VarianceComponents? Of(SquaresRow between, SquaresRow within, double groupSize)
    {
        if ((between.MeanSquare, within.MeanSquare) is not ({ } outer, { } inner))
        {
            return null;
        }

        // The mean square between groups holds the scatter within once and the component as often as a group has readings.
        var component = (outer - inner) / groupSize;
        return component > 0
            ? new VarianceComponents(
                inner, component, false, Freedom((outer / groupSize, between), (inner * (1 - (1 / groupSize)), within)))
            : new VarianceComponents(inner, 0, component < 0, within.DegreesOfFreedom);
    }

    private static int Freedom(params ReadOnlySpan<(double Variance, SquaresRow Row)> parts)
    {
        var (sum, weighted) = (0.0, 0.0);
        foreach (var (variance, row) in parts)
        {
            sum += variance;
            weighted += variance * variance / row.DegreesOfFreedom;
        }

        return Math.Max(1, (int)((sum * sum / weighted) + 1e-9));
    }
}
