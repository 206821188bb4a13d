using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class ConformityTests
{
    [Theory]
    [Trait(
        "Source",
        "JCGM 106:2012, 7.3.3 examples 1 (Zener, at most -5.40 V) and 2 (container, at least 490 kPa); value from memory, recomputed")]
    [InlineData(null, -5.40, -5.47, 0.05, 0.919243)]
    [InlineData(490.0, null, 509.7, 8.6, 0.989010)]
    public void Probability_at_one_limit_is_the_published_one(double? lower, double? upper, double value, double u, double expected) =>
        Assert.Equal(expected, Conformity.Inside(Around(lower, upper, ref value), value, u), 5e-7);

    [Theory]
    [Trait("Source", "Φ of the distance to either limit, JCGM 106:2012 clause 7, reckoned apart")]
    [InlineData(0.045, 0.933193)]
    [InlineData(0.05, 0.841345)]
    [InlineData(0.06, 0.5)]
    [InlineData(0.08, 0.022750)]
    public void Probability_between_two_limits_is_the_difference_of_two_tails(double deviation, double expected) =>
        Assert.Equal(expected, Conformity.Inside(new Limit(-0.06, 0.06, "test"), deviation, 0.01), 5e-7);

    [Theory]
    [Trait(
        "Source",
        "Guard band w = r U, U = 2u (ILAC-G8:09/2019): chance of being outside when measured on the acceptance limit; from memory, "
        + "recomputed")]
    [InlineData(0, 0.5)]
    [InlineData(0.5, 0.1587)]
    [InlineData(0.8224, 0.05)]
    [InlineData(1, 0.0228)]
    public void Guard_band_leaves_the_published_risk(double r, double risk) =>
        Assert.Equal(risk, 1 - Conformity.Inside(new Limit(null, 0.06, "test"), 0.06 - (r * 0.02), 0.01), 5e-5);

    [Fact]
    [Trait("Source", "One-sided 95 % guard band 1.6449 u at ±0.06 and u = 0.01, reckoned apart")]
    public void Verdict_is_undecided_between_the_guard_bands()
    {
        var limit = new Limit(-0.06, 0.06, "test");

        Assert.Equal(
            [Verdict.InControl, Verdict.Undecided, Verdict.Undecided, Verdict.OutOfControl],
            new[] { 0.04355, 0.04356, 0.07644, 0.07645 }.Select(d => Verdicts.Of(Conformity.Inside(limit, d, 0.01))));
    }

    [Fact]
    public void Probability_falls_as_the_deviation_leaves_the_limit() =>
        Gen.Select(Gen.Double[0, 0.2], Gen.Double[0, 0.2], Gen.Double[0.001, 0.1], Gen.Double[1, 100]).Sample((a, b, u, freedom) =>
        {
            var limit = new Limit(-0.06, 0.06, "test");
            var (near, far) = (Conformity.Inside(limit, Math.Min(a, b), u, freedom), Conformity.Inside(limit, Math.Max(a, b), u, freedom));
            Assert.True(near >= far - 1e-12);
            Assert.Equal(near, Conformity.Inside(limit, -Math.Min(a, b), u, freedom), 1e-12);
        });

    [Fact]
    [Trait(
        "Source",
        "JCGM 106:2012, 8.3.3.2 example 1: limit 100 km/h, u 2 %, 99.9 %: action from 107 km/h on; value from memory, recomputed 106.5876")]
    public void Speed_from_which_a_limit_is_surely_exceeded_is_the_published_one()
    {
        const double Speed = 106.5876;

        Assert.Equal(0.001, Conformity.Inside(new Limit(null, 0, "test"), Speed - 100, 0.02 * Speed), 1e-6);
        Assert.Equal(107, Math.Ceiling(Speed));
    }

    [Theory]
    [Trait("Source", "JCGM 106:2012, table 1; value from memory, recomputed")]
    [InlineData(0.84, 0.80)]
    [InlineData(1.28, 0.90)]
    [InlineData(1.64, 0.95)]
    [InlineData(2.33, 0.99)]
    [InlineData(3.09, 0.999)]
    public void Distance_to_a_limit_in_uncertainties_has_the_tabled_probability(double z, double probability) =>
        Assert.Equal(probability, Conformity.Inside(new Limit(null, 1, "test"), 1 - (z * 0.1), 0.1), 6e-4);

    [Fact]
    public void Without_uncertainty_it_is_the_plain_comparison()
    {
        var limit = new Limit(null, 0.03, "test");

        Assert.Equal(1, Conformity.Inside(limit, 0.03, 0));
        Assert.Equal(0, Conformity.Inside(limit, 0.031, 0));
    }

    /// <summary>A limit holds the aim, so the published examples are moved to have 0 inside.</summary>
    private static Limit Around(double? lower, double? upper, ref double value)
    {
        var shift = lower ?? upper!.Value;
        value -= shift;
        return new Limit(lower - shift, upper - shift, "test");
    }
}
