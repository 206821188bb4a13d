using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

[Trait("speed", "slow")]
public sealed class InstrumentInReportTests : IDisposable
{
    private readonly FakeTimeProvider _time = new(DarkroomSeason.After);
    private readonly InMemory _program;

    public InstrumentInReportTests() => _program = new() { Time = _time };

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Instrument_of_which_nothing_is_known_is_told_so()
    {
        await FillAsync();
        var report = await ReportAsync();
        Assert.Contains("Densitometer rgb-columns", report, StringComparison.Ordinal);
        Assert.Contains("no calibration check was made with rgb-columns yet", report, StringComparison.Ordinal);
        Assert.Contains("No repeatability test was made", report, StringComparison.Ordinal);
        Assert.Contains("Lot 2611: its reference strip was not read again", report, StringComparison.Ordinal);
        var first = (await _program.JsonAsync("daily")).GetProperty("first").EnumerateArray().Select(f => f.GetString()!).ToList();
        Assert.Contains(first, f => f.StartsWith("Check the densitometer", StringComparison.Ordinal));
        Assert.Contains(first, f => f.StartsWith("Find how well the densitometer repeats", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Check_repeatability_and_recheck_are_told()
    {
        var strip = await FillAsync();
        await DoAsync("plaque", "add", "bench", "--patch", "zero 0 0 0", "--patch", "high 2.95 3.01 3.05", "--due", "14");
        await DoAsync(
            "check",
            "--plaque",
            "bench",
            "--profile",
            "rgb-columns",
            "--from",
            await FileAsync("zero,1,0.00,0.00,0.00", "high,1,2.95,3.01,3.05"));
        await DoAsync(
            "repeatability",
            "--profile",
            "rgb-columns",
            "--from",
            await FileAsync("ld,1,0.45,0.86,1.04", "ld,2,0.46,0.86,1.05", "ld,3,0.45,0.87,1.04"));
        await using (var store = await EmptyStore.OpenAsync(_program.Folder, _time, Token))
        {
            var reference = (await store.CurrentReferenceAsync(strip.LotCode, Token))!;
            await store.AddRecheckAsync(new ReferenceRecheck(
                Guid.CreateVersion7(), strip.LotCode, reference.Patches, new Provenance(DarkroomSeason.After, "staff", null)), Token);
        }

        var report = await ReportAsync();
        Assert.Contains(
            "A calibration check is in force: passed on 2026-03-23 with plaque bench; the next is due on 2026-04-06.",
            report,
            StringComparison.Ordinal);
        Assert.Contains("Repeatability test of 2026-03-23", report, StringComparison.Ordinal);
        Assert.Contains("0 of 15 limits left, no more than chance explains", report, StringComparison.Ordinal);

        _time.Advance(TimeSpan.FromDays(12.5));
        var first = (await _program.JsonAsync("daily")).GetProperty("first").EnumerateArray().Select(f => f.GetString()!).ToList();
        Assert.Contains("The next calibration check is due on 2026-04-06 (rgb-columns).", first);
        Assert.DoesNotContain(
            first, f => f.StartsWith("Find how well", StringComparison.Ordinal) || f.StartsWith("Check the", StringComparison.Ordinal));
        _time.Advance(TimeSpan.FromDays(2));
        Assert.Contains(
            (await _program.JsonAsync("daily")).GetProperty("first").EnumerateArray(),
            f =>
                f.GetString()!.StartsWith("Check the densitometer: the last calibration check is of 2026-03-23", StringComparison.Ordinal));
    }

    private async Task<StripRecord> FillAsync()
    {
        var strips = ChartHistory.Strips(DarkroomSeason.Strips);
        var read = DarkroomSeason.Moved(strips[^1], 0.01m, DarkroomSeason.After.AddHours(-2), "rgb-columns");
        await DarkroomSeason.FillAsync(_program.Folder, [.. strips, read], Token);
        return read;
    }

    private async Task<string> ReportAsync()
    {
        var file = Path.Combine(_program.Folder, "r.html");
        await DoAsync("report", "--force", "--out", file);
        return System.Net.WebUtility.HtmlDecode(await File.ReadAllTextAsync(file, Token));
    }

    private async Task DoAsync(params string[] arguments)
    {
        var (code, output, error) = await _program.RunAsync(arguments);
        Assert.True(code == 0, output + error);
    }

    private async Task<string> FileAsync(params string[] rows)
    {
        var file = Path.Combine(_program.Folder, "reads.csv");
        await File.WriteAllLinesAsync(file, rows.Prepend("patch,read,red,green,blue"), Token);
        return file;
    }
}
