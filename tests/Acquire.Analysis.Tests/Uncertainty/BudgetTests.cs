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
        Assert.Equal(92.5, budget.CoverageFactor(0.99) * budget.StandardUncertainty, 0.05);
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
    public void Budget_of_what_is_taken_as_given_has_infinite_freedom()
    {
        var budget = new Budget([new("a", 3), new("b", -4)]);

        Assert.Equal((5, double.PositiveInfinity), (budget.StandardUncertainty, budget.DegreesOfFreedom));
        Assert.Equal(1.959964, budget.CoverageFactor(), 5e-7);
    }
}
