namespace Acquire.Domain.Tests.Trust;

public class PlaqueTests
{
    private static readonly PlaquePatch Thin = Patch("thin", 0.05m, 0.06m, 0.07m);
    private static readonly PlaquePatch Dense = Patch("dense", 2.95m, 3.01m, 3.05m);

    [Fact]
    public void Plaque_gives_layout_channels_and_standard_uncertainty()
    {
        var plaque = new Plaque(" desk plaque ", [Thin, Dense], 0.02, 30, new DateOnly(2032, 1, 31));

        Assert.Equal("desk plaque", plaque.Name);
        Assert.Equal(["thin", "dense"], plaque.Layout.Patches.Select(p => p.Key));
        Assert.Equal(Channels.Colours, plaque.Channels);
        Assert.Equal(0.005, plaque.Patches[0].StandardUncertainty);
        Assert.False(plaque.IsExpiredOn(new DateOnly(2032, 1, 31)));
        Assert.True(plaque.IsExpiredOn(new DateOnly(2032, 2, 1)));
    }

    [Fact]
    public void Plaque_with_values_out_of_order_is_refused_with_both_patches_named()
    {
        Assertions.Refused("red is 2.95 in dense and 0.05 in thin", () => new Plaque("p", [Dense, Thin], 0.02, 30));
        Assertions.Refused(
            "blue is 0.07 in thin and 0.07 in mid", () => new Plaque("p", [Thin, Patch("mid", 1.0m, 1.0m, 0.07m), Dense], 0.02, 30));
    }

    [Fact]
    public void Plaque_of_one_patch_or_of_unequal_channels_is_refused()
    {
        Assertions.Refused("two patches at least", () => new Plaque("p", [Thin], 0.02, 30));
        var visual = new PlaquePatch(new Patch("dense", "dense"), new ChannelDensities(null, null, null, new Density(3m)), 0.01);
        Assertions.Refused("certified in visual", () => new Plaque("p", [Thin, visual], 0.02, 30));
    }

    [Theory]
    [InlineData(0, 30)]
    [InlineData(-0.02, 30)]
    [InlineData(0.6, 30)]
    [InlineData(double.NaN, 30)]
    [InlineData(0.02, 0)]
    [InlineData(0.02, 4000)]
    public void Plaque_with_impossible_tolerance_or_interval_is_refused(double tolerance, int days) =>
        Assert.Throws<ImpossibleValueException>(() => new Plaque("p", [Thin, Dense], tolerance, days));

    [Theory]
    [InlineData(-0.01)]
    [InlineData(1)]
    [InlineData(double.NaN)]
    public void Uncertainty_that_is_none_is_refused(double uncertainty) =>
        Assert.Throws<ImpossibleValueException>(() => new PlaquePatch(Thin.Patch, Thin.Certified, uncertainty));

    [Fact]
    public void Check_is_in_force_from_its_reading_until_it_is_due()
    {
        var plaque = new Plaque("p", [Thin, Dense], 0.02, 30);
        var check = Check(plaque, passed: true);

        Assert.Equal(Some.Time.AddDays(30), check.DueAt);
        Assert.False(check.IsInForceAt(Some.Time.AddSeconds(-1)));
        Assert.True(check.IsInForceAt(Some.Time));
        Assert.False(check.IsInForceAt(Some.Time.AddDays(30)));
        Assert.False(Check(plaque, passed: false).IsInForceAt(Some.Time));
    }

    [Fact]
    public void Check_of_other_patches_or_without_reads_is_refused()
    {
        var plaque = new Plaque("p", [Thin, Dense], 0.02, 30);
        Assertions.Refused(
            "those of its plaque p", () => new CalibrationCheck(Guid.Empty, plaque, [Some.Reads("ld", 1m)], true, Some.Provenance));
        Assertions.Refused("no reading that counts", () => new CalibrationCheck(
            Guid.Empty, plaque, [.. plaque.Layout.Patches.Select(PatchReads.None)], true, Some.Provenance));
    }

    [Fact]
    public void Test_of_impossible_values_is_refused()
    {
        Assertions.Refused("named twice", () => Test([Some.Reads("ld", 1m), Some.Reads("ld", 1m)]));
        Assertions.Refused("no reading that counts", () => Test([Some.Reads("ld")]));
        Assertions.Refused("one read at least", () => Test([Some.Reads("ld", 1m)], perPlacement: 0));
        Assertions.Refused("such as 0.010", () => Test([Some.Reads("ld", 1m)], specification: 0));
    }

    private static RepeatabilityTest Test(PatchReads[] patches, int perPlacement = 1, double specification = 0.01) =>
        new(Guid.Empty, [.. patches], perPlacement, specification, true, Some.Provenance);

    private static CalibrationCheck Check(Plaque plaque, bool passed) => new(
        Guid.Empty,
        plaque,
        [.. plaque.Layout.Patches.Select(p => new PatchReads(p, [new PatchRead(Some.Reading(1m))]))],
        passed,
        Some.Provenance);

    private static PlaquePatch Patch(string key, decimal red, decimal green, decimal blue) =>
        new(new Patch(key, key), ChannelDensities.Rgb(red, green, blue), 0.01);
}
