using System.Text.Json;

namespace Acquire.Formats.Tests.Strips;

public sealed class StripJsonLinesTests
{
    [Fact]
    public async Task Json_one_line_per_strip_each_a_document()
    {
        var text = await Exports.JsonAsync(
            Exports.Of(Some.Strip() with { Tags = new StripTags { Note = "two\r\nlines" } }), Exports.Of(Some.Strip()));

        var lines = text.Split('\n');
        Assert.Equal(3, lines.Length);
        Assert.Equal("", lines[2]);
        Assert.All(lines[..2], l => JsonDocument.Parse(l).Dispose());
        Assert.DoesNotContain('\r', text);
    }

    [Fact]
    public async Task Json_densities_keep_their_zeros_and_lines_their_bytes()
    {
        using var json = JsonDocument.Parse(await Exports.JsonAsync(Exports.Of(Some.Strip())));
        var read = json.RootElement.GetProperty("patches")[0].GetProperty("reads")[0];

        Assert.Equal("0.260", read.GetProperty("red").GetRawText());
        Assert.Equal(
            "R 0.260 G 0.620 B 0.800"u8.ToArray(), read.GetProperty("lines")[0].GetProperty("base64").GetBytesFromBase64());
        Assert.False(read.TryGetProperty("visual", out _));
    }

    [Fact]
    public async Task Json_has_exclusions_means_aims_parameters_and_limits()
    {
        using var json = JsonDocument.Parse(await Exports.JsonAsync(Exports.Of(Some.Strip())));
        var root = json.RootElement;

        Assert.Equal(
            "slipped", root.GetProperty("patches")[1].GetProperty("reads")[0].GetProperty("excluded").GetProperty("reason").GetString());
        Assert.Equal("scratch, see =note", root.GetProperty("patches")[2].GetProperty("leftOut").GetProperty("reason").GetString());
        Assert.Equal(0.26, root.GetProperty("means")[0].GetProperty("mean").GetDouble());
        Assert.Equal(0.72, root.GetProperty("aims")[1].GetProperty("value").GetDouble(), 12);
        Assert.Equal("inside", root.GetProperty("parameters")[0].GetProperty("zone").GetString());
        Assert.False(root.GetProperty("parameters")[1].TryGetProperty("deviation", out _));
        Assert.Equal(
            0.08, root.GetProperty("judgedBy").GetProperty("parameters")[0].GetProperty("control").GetProperty("upper").GetDouble());
    }
}
