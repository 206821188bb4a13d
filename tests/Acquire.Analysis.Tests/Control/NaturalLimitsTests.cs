using Acquire.Analysis.Control;

namespace Acquire.Analysis.Tests.Control;

public class NaturalLimitsTests
{
    private static readonly double[] FlowRate = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 6.3.2.2, flow rate of 10 batches; it rounds d2 to 1.128 and D4 to 3.267")]
    public void Individuals_of_the_handbook_have_its_limits()
    {
        var limits = NaturalLimits.Of(FlowRate)!;

        Assert.Equal(50.81, limits.Centre, 1e-12);
        Assert.Equal(1.8778, limits.MeanMovingRange, 5e-5);
        Assert.Equal(55.8041, limits.Centre + (3 * limits.MeanMovingRange / 1.128), 5e-5);
        Assert.Equal(45.8159, limits.Centre - (3 * limits.MeanMovingRange / 1.128), 5e-5);
        Assert.Equal(55.80241, limits.Upper, 5e-6);
        Assert.Equal(45.81759, limits.Lower, 5e-6);
        Assert.Equal(6.1347, limits.MovingRangeUpper, 1e-3);
        Assert.All(FlowRate, x => Assert.InRange(x, limits.Lower, limits.Upper));
    }

    [Fact]
    public void Values_that_are_all_alike_scatter_by_their_step_only()
    {
        Assert.Equal(0, NaturalLimits.Of([0.5, 0.5, 0.5])!.Sigma);
        Assert.Equal(0.01 / Math.Sqrt(12), NaturalLimits.Of([0.5, 0.5, 0.5], 0.01)!.Sigma, 1e-15);
    }

    [Fact]
    public void One_value_has_no_limits() => Assert.Null(NaturalLimits.Of([1]));

    [Fact]
    public void Limits_move_and_stretch_with_the_values() =>
        Gen.Select(Gen.Double[-2, 2].Array[2, 30], Gen.Double[-5, 5], Gen.Double[0.1, 10]).Sample((values, shift, scale) =>
        {
            var (plain, moved) = (NaturalLimits.Of(values)!, NaturalLimits.Of([.. values.Select(v => shift + (scale * v))])!);
            Assert.Equal(shift + (scale * plain.Upper), moved.Upper, 1e-9);
            Assert.Equal(scale * plain.Sigma, moved.Sigma, 1e-9);
        });
}
