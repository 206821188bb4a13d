using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class BudgetTests
{
    [Fact]
    [Trait("Source", "JCGM 100:2008 (GUM) H.1, end gauge, contributions in nanometres as quoted by the GTC documentation")]
    public void End_gauge_has_the_published_uncertainty()
    {
        var budget = new Budget(
        [
            new("calibration of the standard", 25, 18), new("repeated observations", 5.8, 24), new("comparator, random", 3.9, 5),
            new("comparator, systematic", 6.7, 8), new("difference in expansion", 2.9, 50), new("difference in temperature", 16.6, 2),
        ]);

        Assert.Equal(32, Math.Round(budget.StandardUncertainty));
        Assert.Equal(16.7, budget.DegreesOfFreedom, 0.1);
        Assert.Equal(2.92, Math.Round(budget.CoverageFactor(0.99), 2));
        Assert.Equal(92.5, budget.Expanded(0.99), 0.05);
        Assert.Equal(1, budget.Shares.Sum(), 1e-12);
    }

    [Theory]
    [Trait("Source", "JCGM 100:2008 (GUM), table G.2, as quoted by public test suites")]
    [InlineData(0.6827, 1, 1.84)]
    [InlineData(0.95, 1, 12.71)]
    [InlineData(0.9973, 5, 5.51)]
    [InlineData(0.90, 20, 1.72)]
    [InlineData(0.95, 20, 2.09)]
    [InlineData(0.9545, double.PositiveInfinity, 2.00)]
    [InlineData(0.99, 11, 3.11)]
    public void Coverage_factor_is_the_tabled_one(double confidence, double freedom, double factor) =>
        Assert.Equal(factor, new Budget([new("x", 1, freedom)]).CoverageFactor(confidence), 5e-3);

    [Fact]
    [Trait("Source", "JCGM 100:2008 (GUM) H.2, resistance and reactance from correlated readings, as quoted by public test suites; last digits recomputed")]
    public void Correlated_readings_have_the_published_uncertainty()
    {
        double[] v = [5.007, 4.994, 5.005, 4.990, 4.999];
        double[] i = [.. new[] { 19.663, 19.639, 19.640, 19.685, 19.678 }.Select(a => a / 1000)];
        double[] phi = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];
        var means = new[] { v, i, phi }.Select(x => Summary.Of(x).Mean).ToArray();
        var covariance = new double[3, 3];
        double[][] all = [v, i, phi];
        for (var a = 0; a < 3; a++)
        {
            for (var b = 0; b < 3; b++)
            {
                covariance[a, b] = Enumerable.Range(0, 5).Sum(n => (all[a][n] - means[a]) * (all[b][n] - means[b])) / (5 * 4);
            }
        }

        var (z, cos, sin) = (means[0] / means[1], Math.Cos(means[2]), Math.Sin(means[2]));
        double[] r = [cos / means[1], -z * cos / means[1], -z * sin];
        double[] x = [sin / means[1], -z * sin / means[1], z * cos];
        double[] impedance = [1 / means[1], -z / means[1], 0];

        Assert.Equal((127.732, 219.847, 254.260), (Math.Round(z * cos, 3), Math.Round(z * sin, 3), Math.Round(z, 3)));
        Assert.Equal(0.07107, Propagation.StandardUncertainty(r, covariance), 5e-6);
        Assert.Equal(0.29558, Propagation.StandardUncertainty(x, covariance), 5e-6);
        Assert.Equal(0.23634, Propagation.StandardUncertainty(impedance, covariance), 5e-6);
        Assert.Equal(-0.588, Correlation(r, x), 5e-4);
        Assert.Equal(-0.485, Correlation(r, impedance), 5e-4);
        Assert.Equal(0.993, Correlation(x, impedance), 5e-4);

        double Correlation(double[] a, double[] b) =>
            Propagation.Covariance(a, covariance, b) / Propagation.StandardUncertainty(a, covariance) / Propagation.StandardUncertainty(b, covariance);
    }

    [Fact]
    public void Budget_of_what_is_taken_as_given_has_infinite_freedom()
    {
        var budget = new Budget([new("a", 3), new("b", -4)]);

        Assert.Equal((5, double.PositiveInfinity), (budget.StandardUncertainty, budget.DegreesOfFreedom));
        Assert.Equal(1.959964, budget.CoverageFactor(), 5e-7);
    }
}
