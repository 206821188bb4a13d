using Acquire.Analysis.Judgement;

namespace Acquire.Analysis.Tests.Judgement.Curves;

public class CharacteristicCurveTests
{
    // Rising densities at rising log exposures, steps not equal.
    private static readonly Gen<(double LogH, double Density)[]> Rising = Gen.Select(Gen.Int[1, 400], Gen.Int[1, 400]).Array[2, 30]
        .Select(steps =>
    {
        var (logH, density) = (0.0, 0.0);
        return steps.Select(s => (logH += s.Item1 / 1000.0, density += s.Item2 / 1000.0)).ToArray();
    });

    [Fact]
    public void Curve_goes_exactly_through_its_steps() => Rising.Sample(steps =>
    {
        var curve = new CharacteristicCurve(steps.Reverse());
        Assert.All(steps, s => Assert.Equal(s.Density, curve.DensityAt(s.LogH).Value!.Value, 1e-12));
        Assert.All(steps, s => Assert.Equal(s.LogH, curve.LogHAt(s.Density).Value!.Value, 1e-12));
    });

    [Fact]
    public void Rising_steps_make_a_rising_curve_whose_inverse_leads_back() => Gen.Select(Rising, Gen.Double[0, 1], Gen.Double[0, 1])
        .Sample((steps, a, b) =>
    {
        var curve = new CharacteristicCurve(steps);
        double At(double share) => steps[0].LogH + (share * (steps[^1].LogH - steps[0].LogH));
        var (low, high) = (At(Math.Min(a, b)), At(Math.Max(a, b)));
        Assert.True(curve.DensityAt(low).Value <= curve.DensityAt(high).Value);
        // Where the curve lies almost flat, many exposures have nearly one density: the way back is held against that.
        var density = curve.DensityAt(low).Value!.Value;
        Assert.Equal(density, curve.DensityAt(curve.LogHAt(density).Value!.Value).Value!.Value, 1e-9);
    });

    [Fact]
    public void Exact_line_has_exactly_its_slope_however_it_is_taken() =>
        Gen.Select(Gen.Int[-300, 300], Gen.Int[0, 300], Gen.Int[2, 40]).Sample((slope, offset, count) =>
        {
            var curve =
                new CharacteristicCurve(Enumerable.Range(0, count).Select(n => (n * 0.15, (offset / 100.0) + (slope / 100.0 * n * 0.15))));
            Assert.Equal(slope / 100.0, curve.SlopeBetween((count - 1) * 0.15, 0).Value!.Value, 1e-9);
        });

    // By hand: through (0, 0.2), (1, 0.5), (2, 1.4) least squares gives (−1·0.2 + 0·0.5 + 1·1.4) / 2 = 0.6.
    [Fact]
    [Trait("Source", "Least squares by hand")]
    public void Slope_is_that_of_the_least_squares_line_over_the_stretch()
    {
        var curve = new CharacteristicCurve([(0, 0.2), (1, 0.5), (2, 1.4), (3, 9)]);
        Assert.Equal(0.6, curve.SlopeBetween(0, 2).Value!.Value, 1e-12);
        Assert.Equal("fewer than two steps of the straight part were read", curve.SlopeBetween(0.1, 0.9).Why);
    }

    /// <summary>A smooth toe, read at steps of 0.15 that fall anywhere on it: the place of a density is found within 0.003 log H.</summary>
    [Fact]
    [Trait("Source", "Constructed: D = 0.12 · ln(1 + e^(5 (h − 0.8))), solved for h")]
    public void Toe_is_followed_closely_however_the_steps_fall() => Gen.Double[0, 0.15].Sample(shift =>
    {
        var curve = new CharacteristicCurve(
            Enumerable.Range(0, 21).Select(n => (n * 0.15) + shift).Select(h => (h, 0.12 * Math.Log(1 + Math.Exp(5 * (h - 0.8))))));
        var truth = 0.8 + (Math.Log(Math.Exp(0.10 / 0.12) - 1) / 5);
        Assert.Equal(truth, curve.LogHAt(0.10).Value!.Value, 0.003);
    });

    [Fact]
    public void Falling_curve_of_a_reversal_film_is_read_the_same_way() =>
        Assert.Equal(0.5, new CharacteristicCurve([(0, 3.0), (1, 1.0)]).LogHAt(2.0).Value!.Value, 1e-12);

    [Theory]
    [InlineData(0.05, "the density 0.05 is not reached on this strip")]
    [InlineData(2.50, "the density 2.50 is not reached on this strip")]
    [InlineData(0.30, "the density 0.30 is passed 3 times on this strip, so no one place is meant")]
    public void Density_without_one_place_is_refused(double density, string why) =>
        Assert.Equal(CurveValue.None(why), new CharacteristicCurve([(0, 0.2), (1, 0.4), (2, 0.25), (3, 2.0)]).LogHAt(density));

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1.01)]
    public void Log_exposure_beyond_the_last_step_is_not_extrapolated(double logH)
    {
        var none = new CharacteristicCurve([(0, 0.2), (1, 0.4)]).DensityAt(logH);
        Assert.Null(none.Value);
        Assert.Contains("lies off the strip, which goes from 0.00 to 1.00", none.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Curve_of_one_step_or_of_two_at_one_exposure_is_refused()
    {
        _ = Assert.Throws<ImpossibleValueException>(() => new CharacteristicCurve([(0, 0.2)]));
        _ = Assert.Throws<ImpossibleValueException>(() => new CharacteristicCurve([(0, 0.2), (0, 0.3)]));
        _ = Assert.Throws<ImpossibleValueException>(() => new CharacteristicCurve([(0, 0.2), (1, double.NaN)]));
    }
}
