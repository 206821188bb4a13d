using Acquire.Analysis.Tests.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Tests.Uncertainty;

public class GuardBandTests
{
    private static readonly Limit Both = new(-0.06, 0.06, "test");

    [Theory]
    [Trait("Source", "JCGM 106:2012, 8.3, w = r · U with U = 2 u, and ILAC-G8:09/2019: chance of being outside when measured on the "
        + "acceptance "
        + "limit; values from memory, recomputed from the normal distribution")]
    [InlineData(0.5, 0.1587)]
    [InlineData(0.8224, 0.0500)]
    [InlineData(1, 0.0228)]
    public void Guard_band_and_level_are_one_rule(double multiple, double outside)
    {
        var level = GuardBand.LevelOf(multiple);
        var band = GuardBand.Of(new Limit(null, 0.06, "test"), 0.01, double.PositiveInfinity, level);

        Assert.Equal(outside, 1 - level, 1e-4);
        Assert.Equal(multiple, GuardBand.MultipleOf(level), 1e-9);
        Assert.Equal(multiple, band.Multiple!.Value, 1e-6);
        Assert.Equal(0.06 - (multiple * 0.02), band.AcceptTo!.Value, 1e-8);
        Assert.Null(band.AcceptFrom);
    }

    [Fact]
    [Trait("Source", "JCGM 106:2012, 8.3.3.2 example 1: speed limit 100 km/h, u 2 % of it, 99.9 %: acceptance limit 107 km/h; value "
        + "from memory. "
        + "There it is rejected only beyond the guard band, and u grows with the speed")]
    public void Speed_that_is_surely_too_high_is_the_published_one()
    {
        // u is 2 % of the speed measured: the rejection limit is where (v − 100)/(0.02 v) is the 99.9 % point.
        var speed = 100.0;
        for (var i = 0; i < 50; i++)
        {
            // A limit is a density and bounded: one unit is 100 km/h.
            speed = 100 + (100 * GuardBand.Of(
                new Limit(null, 0.5, "test"), 0.02 * speed / 100, double.PositiveInfinity, 0.999).RejectAbove!.Value) - 50;
        }

        Assert.Equal(106.5876, speed, 1e-3);
    }

    [Fact]
    public void Between_the_bands_it_is_undecided_and_the_probabilities_say_so()
    {
        var band = GuardBand.Of(Both, 0.01, double.PositiveInfinity, 0.95);

        // 1.6449 standard uncertainties, from the normal distribution.
        Assert.Equal((0.043551, 0.076449), (Math.Round(band.AcceptTo!.Value, 6), Math.Round(band.RejectAbove!.Value, 6)));
        Assert.Equal((-0.043551, -0.076449), (Math.Round(band.AcceptFrom!.Value, 6), Math.Round(band.RejectBelow!.Value, 6)));
    }

    [Fact]
    public void Ends_are_where_the_verdict_turns() => CsCheck.Check.Sample(
        CsCheck.Gen.Select(
            CsCheck.Gen.Double[0.001, 0.08], CsCheck.Gen.Double[0.51, 0.999], CsCheck.Gen.Int[1, 30], CsCheck.Gen.Double[-0.2, 0.2]),
        (u, level, freedom, deviation) =>
        {
            var band = GuardBand.Of(Both, u, freedom, level);
            var verdict = Verdicts.Of(Conformity.Inside(Both, deviation, u, freedom), level);
            var said = !band.AcceptsNothing && deviation >= band.AcceptFrom && deviation <= band.AcceptTo ? Verdict.InControl
                : deviation <= band.RejectBelow || deviation >= band.RejectAbove ? Verdict.OutOfControl : Verdict.Undecided;
            double?[] ends = [band.AcceptFrom, band.AcceptTo, band.RejectBelow, band.RejectAbove];
            // Within the root's own tolerance of an end either may be right.
            Assert.True(verdict == said || ends.Any(e => Math.Abs(e!.Value - deviation) < u * 1e-6), $"{verdict} but {said}");
        });

    [Theory]
    [Trait("Source", "JCGM 106:2012, clause 9.5: resistors that scatter by 0.12 Ω about 1500 Ω, read to u 0.04 Ω, tolerance ±0.2 Ω. The "
        + "set-up is from memory and the published risks are not at hand; these are sums by Simpson's rule, made apart from this program")]
    [InlineData(0.20, 0.0189422, 0.0372078)]
    [InlineData(0.16, 0.0043341, 0.1146566)]
    [InlineData(0.12, 0.0004686, 0.2476696)]
    public void Risks_over_a_production_are_the_sums_made_apart(double accepted, double consumer, double producer)
    {
        var risk = GlobalRisk.Of(new Limit(-0.2, 0.2, "test"), -accepted, accepted, 0, 0.12, 0.04);

        Assert.Equal(consumer, risk.Consumer, 1e-6);
        Assert.Equal(producer, risk.Producer, 1e-6);
    }

    [Fact]
    public void Uncertainty_too_large_for_the_limit_accepts_nothing()
    {
        var band = GuardBand.Of(Both, 0.06, double.PositiveInfinity, 0.95);

        Assert.True(band.AcceptsNothing);
        Assert.Null(band.Width);
        Assert.NotNull(band.RejectAbove);
    }

    [Fact]
    public void Without_uncertainty_the_limit_itself_is_the_rule()
    {
        var band = GuardBand.Of(Both, 0, double.PositiveInfinity, 0.95);

        Assert.Equal((-0.06, 0.06, 0.0), (band.AcceptFrom!.Value, band.AcceptTo!.Value, band.Width!.Value));
    }

    /// <summary>Held against draws of the process and of readings of it.</summary>
    [Theory]
    [InlineData(0, 0.02, 0.01)]
    [InlineData(0.03, 0.025, 0.005)]
    [InlineData(-0.02, 0.004, 0.012)]
    public void Global_risks_are_how_often_the_rule_errs(double mean, double scatter, double u)
    {
        var band = GuardBand.Of(Both, u, double.PositiveInfinity, 0.95);
        var risk = GlobalRisk.Of(Both, band.AcceptFrom, band.AcceptTo, mean, scatter, u);
        var (random, consumer, producer) = (new Random(11), 0, 0);
        const int Draws = 200_000;
        for (var i = 0; i < Draws; i++)
        {
            var truth = mean + (scatter * random.Normal());
            var seen = truth + (u * random.Normal());
            var accepted = seen >= band.AcceptFrom && seen <= band.AcceptTo;
            consumer += accepted && !Both.Holds(truth) ? 1 : 0;
            producer += !accepted && Both.Holds(truth) ? 1 : 0;
        }

        // Four standard errors of the draws.
        Assert.InRange(consumer / (double)Draws, risk.Consumer - Margin(risk.Consumer), risk.Consumer + Margin(risk.Consumer));
        Assert.InRange(producer / (double)Draws, risk.Producer - Margin(risk.Producer), risk.Producer + Margin(risk.Producer));

        static double Margin(double p) => 4 * Math.Sqrt((p * (1 - p) / Draws) + (1.0 / Draws / Draws));
    }

    [Fact]
    public void Perfect_readings_err_never()
    {
        var risk = GlobalRisk.Of(Both, -0.06, 0.06, 0, 0.03, 1e-7);

        Assert.Equal(0, risk.Consumer, 1e-5);
        Assert.Equal(0, risk.Producer, 1e-5);
    }
}
