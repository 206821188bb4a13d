using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class WeightedLineTests
{
    [Fact]
    [Trait("Source", "The equal-weights example of the British draft behind ISO/TS 28037:2010, as printed in the GTC documentation, "
        + "straight line functions: zero 1.87 u 0.47, slope 1.76 u 0.12, squared residuals 1.66476")]
    public void Line_of_equal_uncertainties_is_the_published_one()
    {
        var line = Line([3.3, 5.6, 7.1, 9.3, 10.7, 12.1], 0.5, 0.5, 0.5, 0.5, 0.5, 0.5);

        Assert.Equal((1.87, 1.76, 1.66476), (Math.Round(line.Zero, 2), Math.Round(line.Slope, 2), Math.Round(line.ChiSquare, 5)));
        Assert.Equal(0.47, Uncertainty(line.ZeroFactors, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5), 0.005);
        Assert.Equal(0.12, Uncertainty(line.SlopeFactors, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5), 0.005);
    }

    [Fact]
    [Trait("Source", "ISO/TS 28037:2010, clause 6, unequal weights (value from memory), computed independently: zero 0.885 u 0.530, "
        + "slope 2.057 u 0.178, χ² 4.131")]
    public void Line_of_unequal_uncertainties_is_the_published_one()
    {
        var line = Line([3.2, 4.3, 7.6, 8.6, 11.7, 12.8], 0.5, 0.5, 0.5, 1, 1, 1);

        Assert.Equal(
            (0.885, 2.057, 4.131, 4),
            (Math.Round(line.Zero, 3), Math.Round(line.Slope, 3), Math.Round(line.ChiSquare, 3), line.DegreesOfFreedom));
        Assert.Equal(0.530, Uncertainty(line.ZeroFactors, 0.5, 0.5, 0.5, 1, 1, 1), 0.0005);
        Assert.Equal(0.178, Uncertainty(line.SlopeFactors, 0.5, 0.5, 0.5, 1, 1, 1), 0.0005);
    }

    [Fact]
    [Trait("Source", "NIST Statistical Reference Datasets, linear regression, Norris, certified values")]
    public void Line_of_unit_weights_through_the_reference_set_has_the_certified_values()
    {
        var line = WeightedLine.Of([.. StraightLineTests.Norris.Select(p => (p.X, p.Y, 1.0))])!;

        Assert.Equal(-0.262323073774029, line.Zero, 1e-11);
        Assert.Equal(1.00211681802045, line.Slope, 1e-13);
        var residual = Math.Sqrt(line.ChiSquare / line.DegreesOfFreedom);
        Assert.Equal(0.884796396144373, residual, 1e-12);
        Assert.Equal(0.232818234301152, residual * Math.Sqrt(line.ZeroFactors.Sum(f => f * f)), 1e-12);
        Assert.Equal(0.429796848199937E-03, residual * Math.Sqrt(line.SlopeFactors.Sum(f => f * f)), 1e-14);
    }

    [Fact]
    public void Factors_give_back_the_line_and_a_constant_and_a_slope_of_one() =>
        Gen.Select(Gen.Double[-3, 3].Array[3, 9], Gen.Double[0.1, 3].Array[9]).Sample((ys, us) =>
        {
            var points = ys.Select((y, i) => ((double)i, y, us[i])).ToArray();
            var line = WeightedLine.Of(points)!;
            Assert.Equal(line.Zero, line.ZeroFactors.Zip(ys, (f, y) => f * y).Sum(), 1e-9);
            Assert.Equal(line.Slope, line.SlopeFactors.Zip(ys, (f, y) => f * y).Sum(), 1e-9);
            Assert.Equal((1, 0), (Math.Round(line.ZeroFactors.Sum(), 9), Math.Round(line.SlopeFactors.Sum(), 9) + 0.0));
        });

    [Fact]
    public void Line_of_too_few_or_equal_places_is_none()
    {
        Assert.Null(WeightedLine.Of([(0, 1, 1), (1, 2, 1)]));
        Assert.Null(WeightedLine.Of([(1, 1, 1), (1, 2, 1), (1, 3, 1)]));
    }

    private static WeightedLine Line(double[] ys, params double[] us) => WeightedLine.Of([.. ys.Select((y, i) => (i + 1.0, y, us[i]))])!;

    private static double Uncertainty(IEnumerable<double> factors, params double[] us) =>
        Math.Sqrt(factors.Zip(us, (f, u) => f * f * u * u).Sum());
}
