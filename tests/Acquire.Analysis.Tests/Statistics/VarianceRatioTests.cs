using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class VarianceRatioTests
{
    [Fact]
    [Trait("Source", "GUM (JCGM 100:2008), H.5: s_a = √5 · 57 µV, s_b = 85 µV, F = 2.25, an effect at 5 %, none at 2.5 %; p computed "
        + "independently 0.0374 from unrounded data")]
    public void Ratio_of_the_voltage_standards_days_is_that_of_the_guide()
    {
        var ratio = VarianceRatio.Of(Math.Sqrt(5) * 57, 9, 85, 40);

        Assert.Equal(2.25, ratio.F, 0.005);
        Assert.InRange(ratio.PLarger, 0.025, 0.05);
        Assert.Equal(2 * ratio.PLarger, ratio.P);
    }

    [Fact]
    public void Ratio_the_other_way_round_has_the_same_chance() =>
        Gen.Select(Gen.Double[0.1, 10], Gen.Int[1, 60], Gen.Double[0.1, 10], Gen.Int[1, 60]).Sample((a, na, b, nb) =>
        {
            var (one, other) = (VarianceRatio.Of(a, na, b, nb), VarianceRatio.Of(b, nb, a, na));
            Assert.Equal(1, one.F * other.F, 1e-9);
            Assert.Equal(one.P, other.P, 1e-9);
            Assert.InRange(one.P, 0, 1);
        });

    [Theory]
    [InlineData(0, 5, 1, 5)]
    [InlineData(1, 5, 0, 5)]
    [InlineData(1, 0, 1, 5)]
    [InlineData(1, 5, 1, 0)]
    public void Ratio_without_scatter_or_freedom_is_refused(double first, int firstFreedom, double second, int secondFreedom) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => VarianceRatio.Of(first, firstFreedom, second, secondFreedom));
}
