namespace Acquire.Analysis.Statistics;

/// <summary>A linear model of rows that come in groups, such as strips from bottles: rows of a group share an error of their own, so twenty
/// strips of one bottle tell less of bottles than ten of each of two.</summary>
/// <param name="Model">Least squares on rows from which the shared part has been taken;
/// coefficients and errors are those of the whole model.</param>
/// <param name="Ratio">Variance between groups over variance within; 0 when nothing is shared.</param>
/// <param name="DegreesOfFreedom">For intervals: of the rows while nothing is shared; the more of a group's mean is shared, the
/// nearer to those of the groups (after Satterthwaite).</param>
public sealed record GroupedModel(LinearModel Model, double Ratio, int DegreesOfFreedom)
{
    private const double LargestRatio = 100;

    /// <summary>Fits by restricted maximum likelihood, a random constant for each group (H. D. Patterson and R. Thompson,
    /// <i>Biometrika</i> 58, 1971). For a known ratio γ the model is least squares on rows less θᵢ of their group's mean, θᵢ
    /// = 1 − 1/√(1 + γ nᵢ), which makes them independent.</summary>
    /// <param name="y">The values, n long, in any unit; scatter and coefficients come in it.</param>
    /// <param name="terms">The columns, each n long, without the constant.</param>
    /// <param name="groups">The group of each row.</param>
    /// <param name="least">What rows are known to scatter by at least, see <see cref="LeastSquares.Fit"/>.</param>
    /// <exception cref="ModelException">As for <see cref="LeastSquares.Fit"/>.</exception>
    public static GroupedModel Fit(
        IReadOnlyList<double> y, IReadOnlyList<Term> terms, IReadOnlyList<string> groups, double least = 0)
    {
        var plain = LeastSquares.Fit(y, terms, least: least);
        var sizes = groups.CountBy(g => g, StringComparer.OrdinalIgnoreCase).ToDictionary(StringComparer.OrdinalIgnoreCase);
        // Where no group has two rows, or all are of one, nothing tells what is shared from what is not.
        if (sizes.Count < 2 || sizes.Values.All(n => n == 1) || plain.ResidualDeviation is null or 0)
        {
            return new GroupedModel(plain, 0, plain.Residual.DegreesOfFreedom);
        }

        // Given the ratio the rest is plain least squares, so only one number has to be searched for.
        var ratio = BestRatio(g => Criterion(At(g, y, terms, groups, sizes, least), g, sizes));
        if (ratio == 0)
        {
            return new GroupedModel(plain, 0, plain.Residual.DegreesOfFreedom);
        }

        var model = At(ratio, y, terms, groups, sizes, least);
        var size = y.Count / (double)sizes.Count;
        var shared = ratio * size / (1 + (ratio * size));
        var freedom = 1 / ((shared * shared / (sizes.Count - 1)) + ((1 - shared) * (1 - shared) / model.Residual.DegreesOfFreedom));
        return new GroupedModel(model, ratio, Math.Clamp((int)freedom, 1, model.Residual.DegreesOfFreedom));
    }

    /// <summary>What a group has of its own, as far as its rows tell (best linear unbiased prediction).</summary>
    /// <param name="rows">How many rows the group has.</param>
    /// <param name="meanResidual">Mean of its rows about the model.</param>
    public double OwnOf(int rows, double meanResidual) => Ratio * rows / (1 + (Ratio * rows)) * meanResidual;

    private static LinearModel At(
        double ratio, IReadOnlyList<double> y, IReadOnlyList<Term> terms, IReadOnlyList<string> groups, Dictionary<string, int> sizes,
        double least)
    {
        ImmutableArray<double> Less(IReadOnlyList<double> values)
        {
            var means = values.Zip(groups).GroupBy(p => p.Second, StringComparer.OrdinalIgnoreCase)
                .ToDictionary(g => g.Key, g => g.Average(p => p.First), StringComparer.OrdinalIgnoreCase);
            return [.. values.Select((v, i) => v - (Theta(ratio, sizes[groups[i]]) * means[groups[i]]))];
        }

        var constant = new Term("constant", Less([.. Enumerable.Repeat(1.0, y.Count)]));
        return LeastSquares.Fit(Less(y), [constant, .. terms.Select(t => t with { Values = Less(t.Values) })], constant: false, least);
    }

    private static double Theta(double ratio, int size) => 1 - (1 / Math.Sqrt(1 + (ratio * size)));

    /// <summary>Minus twice the restricted log-likelihood, but for a constant.</summary>
    private static double Criterion(LinearModel model, double ratio, Dictionary<string, int> sizes) =>
        (model.Residual.DegreesOfFreedom * Math.Log(model.Residual.SumOfSquares))
        + sizes.Values.Sum(n => Math.Log(1 + (ratio * n)))
        - Math.Log(model.Unscaled.Determinant());

    /// <summary>Looks along a grid of ratios, then between its best neighbours (golden section).</summary>
    private static double BestRatio(Func<double, double> criterion)
    {
        // The criterion may have several valleys, and its best place is often 0, an end that a search by slopes would miss.
        double[] grid = [0, .. Enumerable.Range(0, 17).Select(i => 0.01 * Math.Pow(LargestRatio / 0.01, i / 16.0))];
        var values = grid.Select(criterion).ToArray();
        var best = Array.IndexOf(values, values.Min());
        if (best == 0)
        {
            return 0;
        }

        var (low, high) = (grid[best - 1], grid[Math.Min(best + 1, grid.Length - 1)]);
        var golden = (Math.Sqrt(5) - 1) / 2;
        for (var i = 0; i < 40; i++)
        {
            var (a, b) = (high - (golden * (high - low)), low + (golden * (high - low)));
            (low, high) = criterion(a) < criterion(b) ? (low, b) : (a, high);
        }

        return (low + high) / 2;
    }
}
