using static Acquire.Domain.Tests.Assertions;

namespace Acquire.Domain.Tests.Lots;

public class LotTests
{
    private static StripLot Lot(params CorrectionFactor[] factors) =>
        new("1204", "c41", Some.Layout, [.. factors], new DateOnly(2031, 6, 30));

    [Fact]
    public void Correction_is_that_of_the_patch_and_channel_and_otherwise_zero()
    {
        var lot = Lot(new CorrectionFactor("LD", Channel.Red, -0.02), new CorrectionFactor("ld", Channel.Green, 0.03));

        Assert.Equal(
            (-0.02, 0.03, 0.0),
            (lot.Correction("ld", Channel.Red), lot.Correction("LD", Channel.Green), lot.Correction("hd", Channel.Red)));
    }

    [Fact]
    public void Correction_factor_under_a_patchs_name_is_refused_and_not_lost() =>
        Refused("has no patch 'D-min'; it has dmin, ld, hd.", () => Lot(new CorrectionFactor("D-min", Channel.Red, 0.02)));

    [Fact]
    public void Correction_factor_given_twice_is_refused() => Refused(
        "The correction factor 'ld red' is named twice.",
        () => Lot(new CorrectionFactor("ld", Channel.Red, 0.02), new CorrectionFactor("ld", Channel.Red, 0.02)));

    [Theory]
    [InlineData(0.5)]
    [InlineData(-0.5)]
    public void Largest_correction_factor_is_accepted(double value) =>
        Assert.Equal(value, new CorrectionFactor("ld", Channel.Red, value).Value);

    [Theory]
    [InlineData(0.501, "A correction factor of 0.501 cannot be: expected within ±0.5.")]
    [InlineData(-0.6, "expected within ±0.5")]
    [InlineData(double.NaN, "finite")]
    public void Impossible_correction_factor_is_refused(double value, string says) =>
        Refused(says, () => new CorrectionFactor("ld", Channel.Red, value));

    [Fact]
    public void Lot_is_good_through_its_last_day()
    {
        Assert.False(Lot().IsExpiredOn(new DateOnly(2031, 6, 30)));
        Assert.True(Lot().IsExpiredOn(new DateOnly(2031, 7, 1)));
        Assert.False(new StripLot("1204", "c41", Some.Layout).IsExpiredOn(DateOnly.MaxValue));
    }

    [Fact]
    public void Impossible_lot_is_refused()
    {
        Refused("code number", () => new StripLot("", "c41", Some.Layout));
        Refused("process", () => new StripLot("1204", " ", Some.Layout));
        Refused("layout", () => new StripLot("1204", "c41", null!));
    }

    [Fact]
    [Trait("Source", "US Navy Photography (Advanced), US Army SS0514: aim = reference strip + signed correction factor")]
    public void Aim_is_reference_plus_signed_correction()
    {
        Assert.Equal(0.49, new Aim("ld", Channel.Red, 0.46, 0.03, 0).Value, 1e-15);
        Assert.Equal(0.43, new Aim("ld", Channel.Red, 0.46, -0.03, 0).Value, 1e-15);
    }

    [Fact]
    public void Impossible_aim_is_refused()
    {
        Refused("finite", () => new Aim("ld", Channel.Red, double.NaN, 0, 0));
        Refused("finite", () => new Aim("ld", Channel.Red, 0, double.NaN, 0));
        Refused("not below zero", () => new Aim("ld", Channel.Red, 0, 0, -0.001));
    }

    [Fact]
    public void Impossible_reference_is_refused()
    {
        static LotReference Reference(params PatchReads[] patches) => new(Guid.Empty, "1204", [.. patches], Some.Provenance, Some.Revision);

        Assert.Equal("1204", Reference(Some.Reads("ld", 0.46m)).LotCode);
        Refused("must not be empty", () => Reference());
        Refused("no reading that counts", () => Reference(Some.Reads("ld")));
        Refused("The patch 'ld' is named twice.", () => Reference(Some.Reads("ld", 0.46m), Some.Reads("ld", 0.46m)));
    }
}
