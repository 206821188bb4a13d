using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

public class LinearModelTests
{
    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, Longley, certified values")]
    public void Columns_that_nearly_make_each_other_up_have_the_certified_values()
    {
        var model = LeastSquares.Fit([.. ReferenceSets.Longley.Select(r => r[0])], ReferenceSets.Columns(ReferenceSets.Longley));

        double[] coefficients =
        [
            -3482258.63459582,
            15.0618722713733, -0.358191792925910E-01, -2.02022980381683, -1.03322686717359, -0.511041056535807E-01, 1829.15146461355,
        ];
        double[] errors =
        [
            890420.383607373,
            84.9149257747669, 0.334910077722432E-01, 0.488399681651699, 0.214274163161675, 0.226073200069370, 455.478499142212,
        ];
        for (var i = 0; i < coefficients.Length; i++)
        {
            Assert.Equal(1, model.Coefficients[i] / coefficients[i], 1e-11);
            Assert.Equal(1, model.StandardError(i)!.Value / errors[i], 1e-10);
        }

        Assert.Equal(304.854073561965, model.ResidualDeviation!.Value, 1e-9);
        Assert.Equal(0.995479004577296, model.RSquared, 1e-13);
        Assert.Equal(184172401.944494, model.Explained.SumOfSquares, 1e-3);
        Assert.Equal(836424.055505915, model.Residual.SumOfSquares, 1e-5);
        Assert.Equal(330.285339234588, model.F!.Value, 1e-8);
        Assert.Equal((6, 9), (model.Explained.DegreesOfFreedom, model.Residual.DegreesOfFreedom));
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, Wampler1: an exact polynomial of degree 5")]
    public void Exact_polynomial_has_no_residue_and_an_infinite_F()
    {
        var model = LeastSquares.Fit(
            ReferenceSets.Wampler1,
            [.. Enumerable.Range(1, 5).Select(k => new Term($"x^{k}", [.. Enumerable.Range(0, 21).Select(x => Math.Pow(x, k))]))]);

        Assert.All(model.Coefficients, b => Assert.Equal(1, b, 1e-7));
        Assert.Equal(0, model.ResidualDeviation);
        Assert.Equal(1, model.RSquared);
        Assert.Equal(1, model.Explained.SumOfSquares / 18814317208116.67, 1e-12);
        Assert.Equal(double.PositiveInfinity, model.F);
        Assert.Equal(0, model.P);
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, NoInt1, certified values")]
    public void Line_through_the_origin_has_the_certified_values()
    {
        var model = LeastSquares.Fit(
            [.. Enumerable.Range(130, 11).Select(y => (double)y)],
            [new Term("x", [.. Enumerable.Range(60, 11).Select(x => (double)x)])], constant: false);

        Assert.Equal(2.07438016528926, model.Coefficients[0], 1e-13);
        Assert.Equal(0.165289256198347E-01, model.StandardError(0)!.Value, 1e-14);
        Assert.Equal(3.56753034006338, model.ResidualDeviation!.Value, 1e-12);
    }

    [Fact]
    public void Known_coefficients_come_back() =>
        Gen.Select(Gen.Double[-5, 5].Array[4], Gen.Double[-3, 3].Array[3].Array[8, 20]).Sample((b, rows) =>
        {
            var terms = ReferenceSets.Columns([.. rows.Select(r => new[] { 0.0, r[0], r[1], r[2] })]);
            var model = LeastSquares.Fit([.. rows.Select(r => b[0] + (b[1] * r[0]) + (b[2] * r[1]) + (b[3] * r[2]))], terms);
            Assert.All(b.Zip(model.Coefficients), pair => Assert.Equal(pair.First, pair.Second, 1e-6));
            Assert.Equal(4, model.Leverages.Sum(), 1e-6);
            Assert.All(model.Residuals, r => Assert.Equal(0, r, 1e-8));
        });

    /// <summary>By hand, as the t of a column that is 1 in that row only: the same test by another way.</summary>
    [Fact]
    [Trait("Source", "Identity of the externally studentized residual and the mean-shift outlier model (Cook and Weisberg 1982, 2.2.2)")]
    public void Row_far_from_the_others_is_named_with_the_t_of_its_own_column()
    {
        double[] x = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];
        double[] y = [1.1, 1.9, 3.2, 3.9, 5.1, 9.0, 7.1, 7.9, 9.0, 10.1];
        var model = LeastSquares.Fit(y, [new Term("x", [.. x])]);
        var shifted = LeastSquares.Fit(y, [new Term("x", [.. x]), new Term("own", [.. x.Select(v => v == 6 ? 1.0 : 0)])]);

        var (index, t, p) = Assert.Single(model.Outlying());

        Assert.Equal(5, index);
        Assert.Equal(shifted.Coefficients[2] / shifted.StandardError(2)!.Value, t, 1e-9);
        Assert.Equal(10 * shifted.PValue(2)!.Value, p, 1e-12);
        Assert.Empty(LeastSquares.Fit([1, 2, 3, 4], [new Term("x", [1, 2, 3, 5])]).Outlying());
    }

    [Fact]
    public void Mean_only_is_a_model_too()
    {
        var model = LeastSquares.Fit([1, 2, 3, 4], []);

        Assert.Equal(2.5, model.Coefficients[0]);
        Assert.Equal(Math.Sqrt(5.0 / 3 / 4), model.StandardError(0)!.Value, 1e-14);
        Assert.Null(model.F);
    }

    [Fact]
    public void Column_that_others_make_up_is_named()
    {
        double[] x = [1, 2, 3, 4, 5];
        var fault = Assert.Throws<ModelException>(
            () => LeastSquares.Fit([1, 2, 3, 4, 6], [new Term("days", [.. x]), new Term("rolls", [.. x.Select(v => 2 * v)])]));

        Assert.Contains("'rolls' goes together with 'days'", fault.Message, StringComparison.Ordinal);
        Assert.Contains(
            "'same'",
            Assert.Throws<ModelException>(() => LeastSquares.Fit([1, 2, 3], [new Term("same", [4, 4, 4])])).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Too_few_rows_or_numbers_that_are_none_are_refused()
    {
        Assert.Throws<ModelException>(() => LeastSquares.Fit([1], [new Term("x", [1])]));
        Assert.Throws<ModelException>(() => LeastSquares.Fit([1, double.NaN, 2], [new Term("x", [1, 2, 3])]));
        Assert.Throws<ModelException>(() => LeastSquares.Fit([1, 1, 2], [new Term("x", [1, double.PositiveInfinity, 3])]));
        Assert.Throws<ModelException>(() => LeastSquares.Fit([1, 1, 2], [new Term("x", [1, 2])]));
    }

    [Fact]
    public void Model_that_uses_up_every_row_has_no_errors()
    {
        var model = LeastSquares.Fit([1, 3], [new Term("x", [0, 1])]);

        Assert.Equal([1, 2], model.Coefficients.Select(c => Math.Round(c, 12)));
        Assert.Null(model.StandardError(0));
        Assert.Null(model.P);
    }

    /// <summary>Residuals of 0 and 3 degrees of freedom: a floor that is known exactly stands, one known by 3 counts for half.</summary>
    [Theory]
    [InlineData(double.PositiveInfinity, 0.02)]
    [InlineData(3, 0.014142135623730951)]
    public void Rows_on_a_line_scatter_by_what_is_known_at_least(double freedom, double expected)
    {
        Term[] age = [new("age", [1, 2, 3, 4, 5])];

        var exact = LeastSquares.Fit([1, 2, 3, 4, 5], age, least: new LeastScatter(0.02, freedom));
        var rough = LeastSquares.Fit([1, 3, 2, 5, 4], age, least: new LeastScatter(0.02, freedom));

        Assert.Equal(expected, exact.ResidualDeviation!.Value, 1e-12);
        Assert.Equal(LeastSquares.Fit([1, 3, 2, 5, 4], age).ResidualDeviation, rough.ResidualDeviation);
    }
}
