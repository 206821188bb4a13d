using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

public sealed class DailyCommandTests : IDisposable
{
    private readonly FakeTimeProvider _time = new(DarkroomSeason.After);
    private readonly InMemory _program;

    public DailyCommandTests() => _program = new() { Time = _time };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Empty_store_says_that_nothing_is_known()
    {
        var (code, output, _) = await _program.RunAsync("daily");
        Assert.Equal(0, code);
        Assert.StartsWith("Not before a control strip", output, StringComparison.Ordinal);
        Assert.Contains("First:\n  1. Enter the lot of your strips", output.ReplaceLineEndings("\n"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Fresh_strip_inside_its_limits_is_a_yes()
    {
        await FillAsync(6);
        _time.AdjustTime(ChartHistory.Start.AddDays(15.5));
        var json = await _program.JsonAsync("daily");
        var line = json.GetProperty("lines").EnumerateArray().Single();
        Assert.Equal(
            ("dip tank", "inControl", false),
            (line.GetProperty("line").GetString(), line.GetProperty("says").GetString(), line.GetProperty("needsStrip").GetBoolean()));
        Assert.StartsWith("Yes, as far as", json.GetProperty("answer").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Repair_or_age_asks_for_a_strip()
    {
        await FillAsync(6);
        _time.AdjustTime(ChartHistory.Start.AddDays(17.5));
        Assert.Contains("no strip since a repair: pump bearing changed", (await AnswerAsync()).Why, StringComparison.Ordinal);
        _time.AdjustTime(ChartHistory.Start.AddDays(32));
        Assert.StartsWith("Yes, after a control strip.", (await AnswerAsync()).Answer, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_past_a_control_limit_stops_with_exit_code_1()
    {
        var strips = await FillAsync(DarkroomSeason.Strips);
        await using (var store = await EmptyStore.OpenAsync(_program.Folder, TimeProvider.System, TestContext.Current.CancellationToken))
        {
            await store.AddStripAsync(
                DarkroomSeason.Moved(strips[^1], 0.2m, DarkroomSeason.After.AddHours(-1)), TestContext.Current.CancellationToken);
        }

        var (code, output, _) = await _program.RunAsync("daily");
        var lines = output.TrimEnd().Split('\n');
        Assert.Equal(1, code);
        Assert.StartsWith("Not before a second strip: dip tank past a control limit.", lines[0], StringComparison.Ordinal);
        Assert.Contains("  1. dip tank: read the newest strip again", output, StringComparison.Ordinal);
        Assert.InRange(lines.Length, 8, 40);
        Assert.All(lines, l => Assert.InRange(l.TrimEnd('\r').Length, 0, 80));
        Assert.Contains("D8 (dev 13, developer)", output, StringComparison.Ordinal);
        Assert.Contains("They do not tell whether a", output, StringComparison.Ordinal);
    }

    private async Task<(string Answer, string Why)> AnswerAsync()
    {
        var json = await _program.JsonAsync("daily");
        return (json.GetProperty("answer").GetString()!, json.GetProperty("lines")[0].GetProperty("why").GetString()!);
    }

    private async Task<IReadOnlyList<Domain.Records.StripRecord>> FillAsync(int count)
    {
        var strips = ChartHistory.Strips(DarkroomSeason.Strips)[..count];
        await DarkroomSeason.FillAsync(_program.Folder, strips, TestContext.Current.CancellationToken);
        return strips;
    }
}
