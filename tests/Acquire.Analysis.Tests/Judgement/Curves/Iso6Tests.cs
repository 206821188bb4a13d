using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement.Curves;

public class Iso6Tests
{
    [Theory]
    [InlineData(0.008, 100)]
    [InlineData(0.002, 400)]
    [InlineData(0.8, 1)]
    [Trait("Source", "ISO 6, S = 0.8 / Hm in lux seconds; value from memory")]
    public void Speed_is_eight_tenths_over_the_exposure_at_the_speed_point(double exposure, double speed) =>
        Assert.Equal(speed, Iso6.Speed(exposure), 1e-9);

    /// <summary>
    /// By hand: fog 0.20; the curve passes 0.30 at log H −2.10, Hm = 0.00794 lx·s, S = 0.8 / 0.00794 = 100.7; at log H −0.80 it has 1.10,
    /// 0.80 denser.
    /// </summary>
    [Fact]
    [Trait("Source", "ISO 6, points 0.10 above fog and 1.30 log H further, 0.80 ± 0.05 denser; values from memory, arithmetic by hand")]
    public void Worked_curve_gives_its_speed_and_meets_the_contrast()
    {
        var curve = new CharacteristicCurve([(-2.4, 0.22), (-2.1, 0.30), (-0.8, 1.10), (0, 1.6)]);

        var result = Iso6.Of(curve, curve.LogHAt(0.30).Value!.Value, ExposureScale.LuxSeconds);

        Assert.Equal(100.7, result.Speed!.Value, 0.05);
        Assert.Equal((0.80, true), (Math.Round(result.DensityRise!.Value, 9), result.Fits));
    }

    [Theory]
    [InlineData(0.75, true)]
    [InlineData(0.85, true)]
    [InlineData(0.74, false)]
    [InlineData(0.86, false)]
    [Trait("Source", "ISO 6, tolerance 0.05; value from memory")]
    public void Contrast_within_the_tolerance_fits(double rise, bool fits) => Assert.Equal(fits, Iso6.Fits(rise));

    [Fact]
    public void Relative_exposures_give_no_speed_and_a_short_strip_no_contrast()
    {
        var result = Iso6.Of(new CharacteristicCurve([(0, 0.2), (1, 0.8)]), 0.2, ExposureScale.Relative);

        Assert.Equal(new SpeedResult(null, null, null), result);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(double.PositiveInfinity)]
    public void Exposure_that_cannot_be_is_refused(double exposure) => Assert.Throws<ImpossibleValueException>(() => Iso6.Speed(exposure));
}
