using Acquire.Analysis.ProcessSheets;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;

namespace Acquire.Analysis.Tests.ProcessSheets;

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
        Assert.Contains("expected c41", Assert.Throws<ProcessSheetException>(() => ShippedSheets.Get(key)).Message, StringComparison.Ordinal);
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
        var limits = ShippedSheets.All.SelectMany(s => s.Parameters).SelectMany(p => new[] { p.Limits.Action, p.Limits.Control }).OfType<Limit>();

        Assert.All(limits, l => Assert.Contains("from memory", l.Source, StringComparison.Ordinal));
    }
}
