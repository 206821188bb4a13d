using Acquire.Formats.ProcessSheets;

namespace Acquire.Formats.Tests.ProcessSheets;

public class ShippedSheetsTests
{
    [Theory]
    [InlineData("c41")]
    [InlineData("C41")]
    [InlineData("C-41")]
    [InlineData("c-41")]
    public void Sheet_is_found_by_key_or_name_in_any_case(string key) => Assert.Equal("c41", ShippedSheets.Get(key).Key);

    [Theory]
    [InlineData("nothing")]
    [InlineData("")]
    [InlineData("-")]
    public void Unknown_sheet_is_null_or_an_error_that_lists_what_there_is(string key)
    {
        Assert.Null(ShippedSheets.Find(key));
        Assert.Contains(
            "expected bw, c41", Assert.Throws<ProcessSheetException>(() => ShippedSheets.Get(key)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Colour_negative_sheet_has_five_patches_in_reading_order()
    {
        var sheet = ShippedSheets.Get("c41");

        Assert.Equal(DensityStatus.M, sheet.Status);
        Assert.Equal(["dmin", "ld", "hd", "dmax", "yellow"], sheet.Layout.Patches.Select(p => p.Key));
        Assert.Equal(["D-min", "LD", "HD", "D-max", "Yellow"], sheet.Layout.Patches.Select(p => p.Name));
        Assert.Equal(Channels.Colours, sheet.ChannelsNeeded);
    }

    [Theory]
    [InlineData("dmin", "+0.03", "+0.05")]
    [InlineData("ld", "±0.06", "±0.08")]
    [InlineData("contrast", "±0.07", "±0.09")]
    [InlineData("silver", "+0.10", "+0.12")]
    [InlineData("spread", null, "+0.09")]
    [Trait("Source", "Common practice, from memory, not verified against a manual")]
    public void Colour_negative_sheet_has_the_usual_limits(string parameter, string? action, string control)
    {
        var limits = ShippedSheets.Get("c41").Get(parameter).Limits;

        Assert.Equal((action, control), (limits.Action?.ToString(), limits.Control?.ToString()));
    }

    [Fact]
    public void Every_shipped_limit_says_that_it_is_from_memory()
    {
        var limits =
            ShippedSheets.All.SelectMany(s => s.Parameters).SelectMany(p => new[] { p.Limits.Action, p.Limits.Control }).OfType<Limit>();

        Assert.All(limits, l => Assert.Contains("from memory", l.Source, StringComparison.Ordinal));
    }

    [Fact]
    public void Sheets_of_five_processes_come_with_the_program() =>
        Assert.Equal(["bw", "c41", "e6", "ecn2", "ra4"], ShippedSheets.All.Select(s => s.Key));

    // Status: ISO 5-3 has M for negatives to be printed, A for reversal film and prints.
    [Theory]
    [InlineData("e6", DensityStatus.A, DensityGeometry.Transmission, 3)]
    [InlineData("ra4", DensityStatus.A, DensityGeometry.Reflection, 3)]
    [InlineData("ecn2", DensityStatus.M, DensityGeometry.Transmission, 3)]
    [InlineData("bw", DensityStatus.Visual, DensityGeometry.Transmission, 1)]
    [Trait("Source", "ISO 5-3 for the status; common practice, no source, for the process")]
    public void Sheet_without_known_limits_says_so_and_gives_none(string key, DensityStatus status, DensityGeometry geometry, int channels)
    {
        var sheet = ShippedSheets.Get(key);

        Assert.Equal((status, geometry, channels), (sheet.Status, sheet.Geometry, sheet.ChannelsNeeded.Length));
        Assert.All(sheet.Parameters, p => Assert.False(p.HasLimits));
        Assert.Contains("No limits come with this sheet", sheet.Note, StringComparison.Ordinal);
    }

    [Fact]
    [Trait("Source", "Public forum, quoting a manual: a yellow step, a D-max step and ten neutral steps; five of them are used")]
    public void Full_colour_negative_strip_has_twelve_steps_of_which_five_judge_once_marked()
    {
        var marked = LayoutMarks.Mark(LayoutMarks.Mark(ShippedSheets.Get("c41"), "twelve", "ld", 4), "twelve", "hd", 8);

        var layout = marked.GetLayout("twelve");

        Assert.Equal(12, layout.Patches.Length);
        Assert.Equal(
            ["dmin", "ld", "hd", "dmax", "yellow"], layout.Patches.Where(p => p.Role is PatchRole.Judged).Select(p => p.Patch.Key));
        Assert.Equal(marked.Parameters, marked.ParametersOn(layout));
        Assert.Equal("LD (step 4)", layout.Strip.Get("ld").Name);
    }

    [Fact]
    [Trait("Source", "Film maker's public sheet: 21 grey steps, 0.20 log H apart")]
    public void Motion_picture_strip_has_21_steps()
    {
        var exposures = ShippedSheets.Get("ecn2").GetLayout("steps21").Patches.Select(p => p.LogH!.Value).ToList();

        Assert.Equal(21, exposures.Count);
        Assert.All(exposures.Zip(exposures.Skip(1)), pair => Assert.Equal(0.20, pair.Second - pair.First, 1e-12));
    }
}
