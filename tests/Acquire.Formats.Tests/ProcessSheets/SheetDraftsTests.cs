using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Tests.ProcessSheets;

public class SheetDraftsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(21)]
    [InlineData(100)]
    public void Home_made_strip_has_any_patches_and_a_parameter_for_each(int patches)
    {
        var sheet = SheetDrafts.OfPatches("home", "Home", DensityStatus.Visual, [.. Enumerable.Range(1, patches).Select(n => $"p{n}")]);

        Assert.Equal(patches, sheet.Layout.Patches.Length);
        Assert.Equal(patches, sheet.Parameters.Length);
        Assert.Equal([Channel.Visual], sheet.ChannelsNeeded);
        Sheets.AssertSame(sheet, ProcessSheetReader.Read(ProcessSheetWriter.Write(sheet), "written"));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(101)]
    public void Home_made_strip_of_no_or_too_many_patches_is_refused(int patches) => Assert.Throws<ImpossibleValueException>(() =>
        SheetDrafts.OfPatches("home", "Home", DensityStatus.M, [.. Enumerable.Range(1, patches).Select(n => $"p{n}")]));

    [Fact]
    public void Home_made_strip_with_ld_and_hd_has_contrast()
    {
        var contrast = Assert.IsType<DifferenceParameter>(
            SheetDrafts.OfPatches("h", "H", DensityStatus.M, ["dmin", "ld", "md", "hd"]).Get("contrast"));

        Assert.Equal(("hd", "ld", 3), (contrast.PatchKey, contrast.MinusPatchKey, contrast.Channels.Length));
    }

    [Fact]
    public void Wedge_has_equal_steps_beside_an_unexposed_place()
    {
        var layout = SheetDrafts.OfWedge("w", "W", DensityStatus.Visual, 21, 0.15m).Layouts.Single();

        Assert.Null(layout.Patches[0].LogH);
        Assert.Equal(Enumerable.Range(0, 21).Select(n => Math.Round(0.15 * n, 2)), layout.Patches.Skip(1).Select(p => p.LogH!.Value));
    }

    [Theory]
    [InlineData(1, 0.15)]
    [InlineData(100, 0.15)]
    [InlineData(21, 0)]
    [InlineData(21, -0.15)]
    [InlineData(21, 30)]
    public void Wedge_that_draws_no_curve_is_refused(int steps, double increment) =>
        Assert.Throws<ImpossibleValueException>(() => SheetDrafts.OfWedge("w", "W", DensityStatus.M, steps, (decimal)increment));
}
