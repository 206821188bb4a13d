using Acquire.Analysis.Charts;
using Acquire.Bench.History;
using Acquire.Hosting;
using Acquire.Rendering.Charts;

namespace Acquire.Tests.Rendering.Charts;

public class ChartTextTests
{
    [Theory]
    [InlineData(80)]
    [InlineData(120)]
    [InlineData(161)]
    public void Chart_fits_its_width_and_has_no_control_sequences(int width)
    {
        var lines = Lines(ChartModels.Season(), width);
        Assert.All(lines, l => Assert.True(l.Length < width, $"{l.Length} columns: {l}"));
        Assert.DoesNotContain(lines, l => l.Contains('\u001b', StringComparison.Ordinal));
        Assert.True(lines.Max(l => l.Length) > width - 12);
    }

    [Fact]
    public void Panel_of_four_strips_shows_letters_limits_zones_and_dates()
    {
        var lines = Lines(Few(4), 80);
        var from = lines.FindIndex(l => l.StartsWith("LD: 4 strips, all inside; latest red", StringComparison.Ordinal));
        var panel = lines[(from + 1)..lines.FindIndex(from, string.IsNullOrEmpty)];
        var plot = string.Concat(panel.SkipLast(3));
        Assert.All("RGB", c => Assert.InRange(plot.Count(p => p == c), 3, 4));
        Assert.Equal(2, panel.Count(l => l.Contains("═══", StringComparison.Ordinal) && l.EndsWith("control", StringComparison.Ordinal)));
        Assert.Equal(2, panel.Count(l => l.Contains("- - -", StringComparison.Ordinal) && l.EndsWith("action", StringComparison.Ordinal)));
        Assert.StartsWith("  +0.08│", panel.First(l => l.EndsWith("control", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Equal(4, panel[^3].Count(c => c == '.'));
        Assert.Contains("13 Jan 2026", panel[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void Strip_past_a_limit_is_marked_under_its_column_and_counted()
    {
        var text = string.Join('\n', Lines(ChartModels.Season(), 160));
        Assert.Matches(@"HD − LD: 60 strips, [1-9]\d* past the action limit, \d+ out; latest red", text);
        Assert.Matches(@"zone +\.+.*A", text);
        Assert.Contains("D-max B − yellow B is not known of 1 strip: D-max was left out: torn.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Lots_events_and_findings_are_shown_and_explained()
    {
        var lines = Lines(ChartModels.Season(), 160);
        Assert.Matches(@"^lot +─ 2417 ─+├ 2611 ─+$", lines.Single(l => l.StartsWith("lot ", StringComparison.Ordinal)));
        Assert.Matches(@"^events +1 2$", lines.Single(l => l.StartsWith("events", StringComparison.Ordinal)));
        Assert.Contains(lines, l => l.StartsWith("2 2026-02-22 repair: heater repaired", StringComparison.Ordinal));
        Assert.Contains(lines, l => l.StartsWith("a HD − LD in all three colours", StringComparison.Ordinal));
    }

    [Fact]
    public void Many_points_at_one_place_show_their_number()
    {
        var points = ChartHistory.Strips(60).Select(s => StripHistory.PointOf(s, TimeProvider.System)).ToList();
        var text = string.Join('\n', Lines(ChartModel.Of(new ChartRequest(ChartHistory.Sheet, points) { Parameters = ["ld"] }), 80));
        var (letters, figures) = (text.Split("LD:")[1].Split("zone")[0].Count(c => c is 'R' or 'G' or 'B'),
            text.Split("LD:")[1].Split("zone")[0].Where(char.IsDigit));
        Assert.True(letters > 20 && figures.Contains('3'));
    }

    private static ChartModel Few(int count) => ChartModel.Of(new ChartRequest(
        ChartHistory.Sheet, [.. ChartHistory.Strips(count).Select(s => StripHistory.PointOf(s, TimeProvider.System))]));

    private static List<string> Lines(ChartModel model, int width)
    {
        using var writer = new StringWriter();
        var console = Surroundings.Make(writer, redirected: true);
        console.Profile.Width = width;
        ChartText.Write(console, model);
        return [.. writer.ToString().Split('\n').Select(l => l.TrimEnd('\r'))];
    }
}
