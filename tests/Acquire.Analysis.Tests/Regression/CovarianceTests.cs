using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

/// <summary>Groups and a covariate together, as bottles and age are.</summary>
[Trait("Source", "G. W. Snedecor and W. G. Cochran, Statistical Methods, 6th ed. 1967, p. 422 (leprosy); results of the SAS/STAT "
    + "example, from memory, recomputed")]
public class CovarianceTests
{
    private static readonly (string Drug, double Pre, double Post)[] Rows =
    [
        .. Of("A", 11, 6, 8, 0, 5, 2, 14, 8, 19, 11, 6, 4, 10, 13, 6, 1, 11, 8, 3, 0),
        .. Of("D", 6, 0, 6, 2, 7, 3, 8, 1, 18, 18, 8, 4, 19, 14, 8, 9, 5, 1, 15, 9),
        .. Of("F", 16, 13, 13, 10, 11, 18, 9, 5, 21, 23, 16, 12, 12, 5, 12, 16, 7, 1, 12, 20),
    ];

    private static readonly double[] Post = [.. Rows.Select(r => r.Post)];
    private static readonly Term Pre = new("pre", [.. Rows.Select(r => r.Pre)]);
    private static readonly ImmutableArray<Term> Drug = Term.Factor("drug", [.. Rows.Select(r => r.Drug)], "F");
    private static readonly LinearModel Model = LeastSquares.Fit(Post, [.. Drug, Pre]);

    [Fact]
    public void Coefficients_and_squares_are_the_published_ones()
    {
        double[] coefficients = [-0.434671164, -3.446138280, -3.337166948, 0.987183811];
        double[] errors = [2.471353559, 1.886780648, 1.853866424, 0.164497568];
        for (var i = 0; i < 4; i++)
        {
            Assert.Equal(coefficients[i], Model.Coefficients[i], 5e-9);
            Assert.Equal(errors[i], Model.StandardError(i)!.Value, 5e-9);
        }

        Assert.Equal(871.4974030, Model.Explained.SumOfSquares, 5e-7);
        Assert.Equal(417.2025970, Model.Residual.SumOfSquares, 5e-7);
        Assert.Equal(18.10, Model.F!.Value, 5e-3);
        Assert.Equal(0.676261, Model.RSquared, 5e-7);
    }

    [Fact]
    public void Effects_are_tested_by_what_they_add()
    {
        var (drugOnly, preOnly) = (LeastSquares.Fit(Post, Drug), LeastSquares.Fit(Post, [Pre]));
        var drug = ModelComparison.Of(preOnly, Model);
        var pre = ModelComparison.Of(drugOnly, Model);

        Assert.Equal(293.6, drugOnly.Explained.SumOfSquares, 1e-9);
        Assert.Equal(68.55371060, drug.Extra.SumOfSquares, 5e-9);
        Assert.Equal((2.14, 0.1384), (Math.Round(drug.F!.Value, 2), Math.Round(drug.P!.Value, 4)));
        Assert.Equal(577.8974030, pre.Extra.SumOfSquares, 5e-8);
        Assert.Equal(36.01, pre.F!.Value, 5e-3);
    }

    [Fact]
    public void Unequal_slopes_add_the_published_squares()
    {
        var slopes = LeastSquares.Fit(Post, [.. Drug, Pre, .. Drug.Select(d => d * Pre)]);
        var extra = ModelComparison.Of(Model, slopes);

        Assert.Equal((19.64465, 2), (Math.Round(extra.Extra.SumOfSquares, 5), extra.Extra.DegreesOfFreedom));
        Assert.Equal((0.59, 0.5606), (Math.Round(extra.F!.Value, 2), Math.Round(extra.P!.Value, 4)));
    }

    [Fact]
    public void Adjusted_means_at_the_mean_of_the_covariate_are_the_published_ones()
    {
        var mean = Summary.Of(Pre.Values).Mean;
        (double[] Weights, double Mean, double Error)[] expected =
        [
            ([1, 1, 0, mean], 6.7149635, 1.2884943), ([1, 0, 1, mean], 6.8239348, 1.2724690), ([1, 0, 0, mean], 10.1611017, 1.3159234),
        ];
        foreach (var (weights, value, error) in expected)
        {
            var adjusted = Model.Combine(weights);
            Assert.Equal(value, adjusted.Value, 5e-8);
            Assert.Equal(error, adjusted.StandardError!.Value, 5e-8);
        }
    }

    private static IEnumerable<(string, double, double)> Of(string drug, params double[] pairs) =>
        pairs.Chunk(2).Select(p => (drug, p[0], p[1]));
}
