using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class DeviationIntervalTests
{
    [Theory]
    [InlineData(0.50, 0.00601, 0.00662)]
    [InlineData(0.75, 0.00582, 0.00685)]
    [InlineData(0.90, 0.00563, 0.00712)]
    [InlineData(0.95, 0.00551, 0.00729)]
    [InlineData(0.99, 0.00530, 0.00766)]
    [InlineData(0.999, 0.00507, 0.00812)]
    [Trait("Source", "Boost.Math documentation of the chi-squared distribution, confidence limits for GEAR.DAT of NIST")]
    public void Interval_of_the_gear_diameters_is_the_published_one(double confidence, double low, double high)
    {
        var interval = DeviationInterval.Of(0.006278908, 99, confidence);

        Assert.Equal(low, interval.Low, 0.000005);
        Assert.Equal(high, interval.High, 0.000005);
    }

    [Theory]
    [InlineData(2, 0.4461, 31.9102)]
    [InlineData(3, 0.5207, 6.2847)]
    [InlineData(4, 0.5665, 3.7285)]
    [InlineData(5, 0.5991, 2.8736)]
    [InlineData(6, 0.6242, 2.4526)]
    [InlineData(7, 0.6444, 2.2021)]
    [InlineData(8, 0.6612, 2.0353)]
    [InlineData(9, 0.6755, 1.9158)]
    [InlineData(10, 0.6878, 1.8256)]
    [InlineData(15, 0.7321, 1.5771)]
    [InlineData(20, 0.7605, 1.4606)]
    [InlineData(30, 0.7964, 1.3443)]
    [InlineData(50, 0.8353, 1.2461)]
    [InlineData(100, 0.8780, 1.1617)]
    [Trait("Source", "Boost.Math documentation of the chi-squared distribution, 95 % multipliers of s by sample size")]
    public void Interval_is_the_deviation_times_the_published_multipliers(int n, double low, double high)
    {
        var interval = DeviationInterval.Of(1, n - 1);

        Assert.Equal(low, interval.Low, 0.00005);
        Assert.Equal(high, interval.High, 0.00005);
    }

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 7.2.3 data, s = 13.97 of 10 wafers; ends computed independently: 9.609 to 25.504")]
    public void Interval_of_the_wafers_holds_the_computed_ends()
    {
        var interval = DeviationInterval.Of(13.97, 9);

        Assert.Equal(9.609, interval.Low, 0.0005);
        Assert.Equal(25.504, interval.High, 0.0005);
    }

    [Fact]
    public void Interval_holds_the_true_deviation_as_often_as_it_promises()
    {
        var random = new Random(20310304);
        var held = Enumerable.Range(0, 4000).Count(_ =>
        {
            var s = Summary.Of([.. Enumerable.Range(0, 8).Select(_ => random.Normal())]).StandardDeviation!.Value;
            var (low, high) = DeviationInterval.Of(s, 7);
            return low <= 1 && 1 <= high;
        });

        Assert.InRange(held / 4000.0, 0.938, 0.962);
    }

    [Fact]
    public void Interval_widens_with_confidence_narrows_with_freedom_and_holds_the_deviation() =>
        Gen.Select(Gen.Double[0.001, 10], Gen.Int[1, 200], Gen.Double[0.5, 0.98]).Sample((s, freedom, confidence) =>
        {
            var (plain, sure, more) = (
                DeviationInterval.Of(s, freedom, confidence),
                DeviationInterval.Of(s, freedom, confidence + 0.01),
                DeviationInterval.Of(s, freedom + 1, confidence));
            Assert.True(sure.Low < plain.Low && plain.High < sure.High);
            Assert.True(more.High - more.Low < plain.High - plain.Low);
            Assert.True(freedom < 3 || (plain.Low < s && s < plain.High));
        });

    [Theory]
    [InlineData(-1, 5, 0.95)]
    [InlineData(1, 0, 0.95)]
    [InlineData(1, 5, 0)]
    [InlineData(1, 5, 1)]
    public void Interval_of_impossible_numbers_is_refused(double s, int freedom, double confidence) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => DeviationInterval.Of(s, freedom, confidence));
}
