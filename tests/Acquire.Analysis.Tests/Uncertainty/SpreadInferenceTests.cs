using Acquire.Analysis.Tests.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class SpreadInferenceTests
{
    [Fact]
    public void Spread_without_noise_is_what_is_shown()
    {
        var spread = new SpreadInference([0.01, 0.06, 0.03], [0, 0, 0]);

        Assert.Equal((1.0, 0.0), (spread.Inside(0.06), spread.Inside(0.04)));
        Assert.Equal(0.05, spread.Estimate().Estimate, 1e-9);
    }

    [Fact]
    [Trait("Source", "d2(3) = 1.693: noise of s alone shows 1.693 s on average, which is no spread")]
    public void Spread_that_noise_alone_would_show_is_estimated_as_less()
    {
        var (estimate, low, high) = new SpreadInference([0, 0.0085, 0.017], [0.01, 0.01, 0.01]).Estimate();

        Assert.InRange(estimate, 0, 0.010);
        Assert.Equal(0, low);
        Assert.InRange(high, 0.02, 0.06);
    }

    [Fact]
    public void Estimate_lies_in_its_interval_and_below_what_is_shown() => Gen.Select(
        Gen.Double[-0.1, 0.1].Array[3], Gen.Double[0.002, 0.03]).Sample(
        (means, s) =>
        {
            var spread = new SpreadInference(means, [s, s, s]);
            var (estimate, low, high) = spread.Estimate();
            Assert.InRange(estimate, low, high);
            Assert.InRange(estimate, 0, spread.Shown + 1e-4);
        },
        iter: 30);

    /// <summary>Truth on the limit: called out and in no oftener than one time in twenty each, as far as so few draws can tell.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    [Trait("Source", "Simulation, seeded")]
    public void Spread_on_its_limit_is_called_wrongly_as_seldom_as_asked_for(double middle)
    {
        var random = new Random(4);
        var (called, draws) = ((In: 0, Out: 0), 400);
        for (var i = 0; i < draws; i++)
        {
            double[] means = [.. new[] { 0, 0.09 * middle, 0.09 }.Select(m => m + (0.012 * RandomNumbers.Normal(random)))];
            var inside = new SpreadInference(means, [0.012, 0.012, 0.012]).Inside(0.09);
            called = (called.In + (inside >= 0.95 ? 1 : 0), called.Out + (inside <= 0.05 ? 1 : 0));
        }

        Assert.InRange(called.In / (double)draws, 0, 0.09);
        Assert.InRange(called.Out / (double)draws, 0, 0.09);
    }
}
