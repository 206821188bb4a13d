using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Judgement;

public class MeanUncertaintyTests
{
    private static PatchMean Mean(int reads, double step = 0.01) => new("ld", Channel.Red, 0.46, reads, reads > 1 ? 0 : null, step);

    [Fact]
    [Trait("Source", "GUM (JCGM 100:2008) F.2.2.1: a display step of 0.01 gives u = 0.01/√12 = 0.0029")]
    public void Reads_that_do_not_scatter_leave_the_display_step()
    {
        var uncertainty = MeanUncertainty.Of(Mean(1), new ReadScatter(0, 10, false));

        Assert.Equal(0.0029, uncertainty.StandardUncertainty, 0.00005);
        Assert.Equal(0.01 / Math.Sqrt(12), uncertainty.StandardUncertainty, 1e-15);
        Assert.Equal(new UncertaintyBasis(new ReadScatter(0, 10, false), 0.01, true, 1), uncertainty.Basis);
    }

    [Theory]
    [InlineData(0.01)]
    [InlineData(0.001)]
    public void One_read_of_an_unknown_instrument_rests_on_the_assumption_whatever_its_display_shows(double step)
    {
        var uncertainty = MeanUncertainty.Of(Mean(1, step), InstrumentKnowledge.Of("bench", []).At(Channel.Red, 0.46));

        Assert.Equal(0.010 * Math.Sqrt(1 + Math.Pow(0.45 * 0.46, 2)), uncertainty.StandardUncertainty, 1e-12);
        Assert.True(uncertainty.Basis.Scatter.IsAssumed);
    }

    [Theory]
    [InlineData(0.010, 3, false, 0.0057735)] // 0.010/√3
    [InlineData(0.005, 1, false, 0.005)]
    [InlineData(0.004, 4, true, 0.0035119)] // √(0.004²/4 + 0.01²/12)
    [InlineData(0.000, 5, true, 0.0028868)] // no number of equal reads helps
    [Trait("Source", "GUM (JCGM 100:2008) 4.2.3 and F.2.2.1, by hand")]
    public void Display_step_is_counted_once(double repeatability, int reads, bool added, double expected)
    {
        var uncertainty = MeanUncertainty.Of(Mean(reads), new ReadScatter(repeatability, 10, false));

        Assert.Equal(expected, uncertainty.StandardUncertainty, 5e-8);
        Assert.Equal(added, uncertainty.Basis.ResolutionAdded);
    }

    [Fact]
    [Trait("Source", "By hand: three equal reads and one a step away scatter by exactly half a step")]
    public void Scatter_of_exactly_half_a_step_contains_the_step()
    {
        var means = PatchMeans.Of([Some.Reds("ld", 0.26m, 0.26m, 0.26m, 0.27m)]);

        var uncertainty = MeanUncertainty.Of(means.Single(), new ReadScatter(means.Single().StandardDeviation!.Value, 3, false));

        Assert.False(uncertainty.Basis.ResolutionAdded);
        Assert.Equal(0.0025, uncertainty.StandardUncertainty, 1e-12);
    }

    [Fact]
    [Trait("Source", "By hand: (2 · 0.01² + 1 · 0.02²/2) / 3 = 0.00013333")]
    public void Repeatability_is_pooled_over_the_patches_of_a_channel()
    {
        var means = PatchMeans.Of([Some.Reds("dmin", 0.26m, 0.27m, 0.28m), Some.Reds("ld", 0.45m, 0.47m), Some.Reds("hd", 1.26m)]);

        var pooled = Repeatability.Of(means);

        Assert.Equal([Channel.Red], pooled.Keys);
        Assert.Equal(3, pooled[Channel.Red].DegreesOfFreedom);
        Assert.Equal(Math.Sqrt(0.0004 / 3), pooled[Channel.Red].StandardDeviation, 1e-14);
    }

    [Fact]
    public void Repeatability_without_repeats_is_absent() =>
        Assert.Empty(Repeatability.Of(PatchMeans.Of([Some.Reds("dmin", 0.26m), Some.Reds("ld", 0.45m)])));

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 2.4.4.1, pooling: by hand, (2·0.0001 + 8·0.000036)/10")]
    public void Repeatability_pools_the_strips_own_repeats_with_the_test_in_force()
    {
        var own = new PatchMean("ld", Channel.Red, 0.46, 3, 0.010, 0.01);
        var inForce = new RepeatabilityInForce(Guid.CreateVersion7(), [new(Channel.Red, 0.006, 8), new(Channel.Blue, 0.007, 8)]);

        var pooled = Repeatability.Of([own], inForce);

        Assert.Equal(Math.Sqrt(0.0000488), pooled[Channel.Red].StandardDeviation, 1e-12);
        Assert.Equal(10, pooled[Channel.Red].DegreesOfFreedom);
        Assert.Equal(new PooledDeviation(0.007, 8), pooled[Channel.Blue]);
        Assert.DoesNotContain(Channel.Green, pooled);
    }
}
