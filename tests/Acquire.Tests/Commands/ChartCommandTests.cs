using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace Acquire.Tests.Commands;

public sealed class ChartCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Json_carries_every_number_that_the_text_shows()
    {
        await FillAsync(24, leaveOut: 3);
        var (_, text, _) = await _program.RunAsync("chart");
        var json = await _program.JsonAsync("chart");

        var panels = json.GetProperty("panels").EnumerateArray().ToList();
        Assert.Equal(["silver", "contrast", "spread", "ld", "dmin"], panels.Select(p => p.GetProperty("key").GetString()));
        var known = Numbers(json)
            .SelectMany(n => new[] { "0.000", "0.00", "0" }.Select(f => Math.Abs(n).ToString(f, CultureInfo.InvariantCulture)))
            .ToHashSet();
        foreach (var line in text.Split('\n').Where(l => Regex.IsMatch(l, @"(latest|Natural limits)|(control|action)$")))
        {
            Assert.All(
                Regex.Matches(line, @"\d\.\d{2,3}").Select(m => m.Value),
                shown => Assert.True(known.Contains(shown), $"{shown} of: {line}"));
        }

        foreach (var panel in panels)
        {
            var (strips, action, outside) =
                (panel.GetProperty("strips").GetInt32(), panel.GetProperty("pastAction").GetInt32(), panel.GetProperty("out").GetInt32());
            var zones = action + outside == 0 ? "all inside" : $"{action} past the action limit, {outside} out";
            Assert.Contains($"{panel.GetProperty("name").GetString()}: {strips} strips, {zones}; latest ", text, StringComparison.Ordinal);
        }

        Assert.Equal(24, panels[0].GetProperty("lines")[0].GetProperty("points").GetArrayLength()
            + panels[0].GetProperty("lines")[0].GetProperty("missing").GetArrayLength());
    }

    [Fact]
    public async Task Json_agrees_with_the_strip_itself()
    {
        await FillAsync(2);
        var point = (await _program.JsonAsync("chart", "--parameter", "ld")).GetProperty("panels")[0].GetProperty("lines")[0].GetProperty(
            "points")[1];
        var strip = (await _program.JsonAsync("strip", "show", point.GetProperty("stripId").GetString()!)).GetProperty("parameters")
            .EnumerateArray()
            .Single(p => p.GetProperty("key").GetString() == "ld" && p.GetProperty("channel").GetString() == "red");
        Assert.All(["deviation", "uncertainty"], n => Assert.Equal(strip.GetProperty(n).GetDouble(), point.GetProperty(n).GetDouble()));
        Assert.Equal(strip.GetProperty("zone").GetString(), point.GetProperty("zone").GetString());
        Assert.StartsWith("2026-01-15T", point.GetProperty("at").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(new[] { "--lot", "2611" }, 4)]
    [InlineData(new[] { "--bottle", "d7" }, 12)]
    [InlineData(new[] { "--bottle", "D7", "--last", "5" }, 5)]
    [InlineData(new[] { "--line", "dip tank" }, 24)]
    [InlineData(new[] { "--since", "2026-02-01", "--until", "2026-02-28" }, 9)]
    public async Task Options_choose_strips(string[] options, int count)
    {
        await FillAsync(24);
        Assert.Equal(count, (await _program.JsonAsync(["chart", .. options])).GetProperty("strips").GetInt32());
    }

    /// <summary>Lists and exports choose strips by the same options as charts.</summary>
    [Theory]
    [InlineData(new[] { "--line", "dip tank", "--lot", "2611" }, 4)]
    [InlineData(new[] { "--line", "machine" }, 0)]
    [InlineData(new[] { "--since", "2026-02-01", "--until", "2026-02-28" }, 9)]
    public async Task Same_options_choose_strips_of_lists_and_exports(string[] options, int count)
    {
        await FillAsync(24);
        Assert.Equal(count, (await _program.JsonAsync(["strip", "list", .. options])).GetArrayLength());
        var file = Path.Combine(_program.Folder, "strips.jsonl");
        Assert.Equal(0, (await _program.RunAsync(["export", "strips", "--out", file, .. options])).Code);
        Assert.Equal(count, (await File.ReadAllLinesAsync(file, TestContext.Current.CancellationToken)).Length);
    }

    [Fact]
    public async Task File_is_drawn_by_its_ending()
    {
        await FillAsync(3);
        var (svg, png) = (Path.Combine(_program.Folder, "c.svg"), Path.Combine(_program.Folder, "c.PNG"));
        var (code, output, error) = await _program.RunAsync("chart", "--out", svg, "--width", "500");
        Assert.Equal((0, ""), (code, output));
        Assert.Contains($"Wrote {svg}.", error, StringComparison.Ordinal);
        Assert.Equal("500", XDocument.Load(svg).Root!.Attribute("width")!.Value);
        await _program.RunAsync("chart", "--out", png);
        Assert.Equal(
            [0x89, (byte)'P', (byte)'N', (byte)'G'], (await File.ReadAllBytesAsync(png, TestContext.Current.CancellationToken)).Take(4));
    }

    [Theory]
    [InlineData(new[] { "--out", "chart.pdf" }, "neither .svg nor .png")]
    [InlineData(new[] { "--axis", "phase" }, "expected date, age, open or area")]
    [InlineData(new[] { "--parameter", "fog" }, "it has dmin, ld, contrast, silver, spread")]
    [InlineData(new[] { "--width", "12" }, "from 320 to 4000")]
    [InlineData(new[] { "--until", "soon" }, "'soon' is no day")]
    [InlineData(new[] { "--lot", "9" }, "no such strip")]
    [InlineData(new[] { "--process", "e6" }, "no such strip")]
    [InlineData(new[] { "--axis", "age" }, "3 strips are not on the chart: the books do not tell the age of their mix.")]
    public async Task Wrong_use_says_what_was_expected_and_writes_nothing(string[] options, string said)
    {
        await FillAsync(3);
        var (code, output, error) = await _program.RunAsync(["chart", .. options]);
        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Empty_store_says_so() => Assert.Equal(2, (await _program.RunAsync("chart")).Code);

    private Task FillAsync(int strips, int leaveOut = -1) =>
        ChartHistory.FillAsync(_program.Folder, ChartHistory.Strips(strips, leaveOut), TestContext.Current.CancellationToken);

    private static IEnumerable<double> Numbers(JsonElement json) => json.ValueKind switch
    {
        JsonValueKind.Number => [json.GetDouble()],
        JsonValueKind.Array => json.EnumerateArray().SelectMany(Numbers),
        JsonValueKind.Object => json.EnumerateObject().SelectMany(p => Numbers(p.Value)),
        _ => [],
    };
}
