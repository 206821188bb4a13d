using Acquire.Analysis.Gauge;
using Plaque = Acquire.Analysis.Gauge.Plaque;

namespace Acquire.Analysis.Tests.Gauge;

public class PlaqueTests
{
    private static CertifiedValue Red(string patch, decimal value, double? u = null) => new(patch, Channel.Red, value, u);

    [Fact]
    public void Plaque_whose_values_fall_is_refused_by_patch()
    {
        var fault = Assert.Throws<GaugeException>(() => new Plaque([Red("low", 0.05m), Red("high", 3.0m), Red("middle", 1.5m)]));

        Assert.Contains("patch middle (1.5) is not above patch high (3.0)", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Plaque_may_interleave_channels_that_each_rise()
    {
        var plaque = new Plaque([Red("low", 0.9m), new("low", Channel.Blue, 0.1m), Red("high", 1.5m), new("high", Channel.Blue, 1.4m)]);

        Assert.Equal(["low", "high"], plaque.Patches);
        Assert.Equal(0.02, plaque.Tolerance);
        Assert.Equal(2, plaque.Of(Channel.Blue).Length);
    }

    public static TheoryData<CertifiedValue[], double> Impossible => new()
    {
        { [], 0.02 },
        { [Red("low", 0.05m), Red("LOW", 0.06m)], 0.02 },
        { [Red("low", 0.05m), Red("high", 0.05m)], 0.02 },
        { [Red("low", 0.05m, -0.01)], 0.02 },
        { [Red("low", 0.05m, double.NaN)], 0.02 },
        { [Red("low", 0.05m)], 0 },
        { [Red("low", 0.05m)], double.NaN },
    };

    [Theory]
    [MemberData(nameof(Impossible))]
    public void Plaque_that_cannot_be_is_refused(CertifiedValue[] values, double tolerance) =>
        Assert.Throws<GaugeException>(() => new Plaque([.. values], tolerance));
}
