using Acquire.Bench.History;
using Acquire.Bench.Reports;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Reports;

public sealed class ReportDeskTests : IDisposable
{
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Fact]
    public async Task Title_says_what_was_asked_for_and_the_days_of_the_strips()
    {
        StripRecord[] strips = [StudyStore.Strip(0, 0), StudyStore.Strip(5, 0)];
        await using var store = await _studies.OpenAsync(strips);
        var desk = new ReportDesk(store, _studies.Time);
        async Task<string> TitleAsync(ReportAsked asked) => (await desk.AskAsync(asked, StudyStore.Token)).Title;

        Assert.Equal("C-41, 2026-11-25 to 2026-11-30", await TitleAsync(new ReportAsked(new HistoryFilter(StripFilter.All))));
        Assert.Equal(
            "C-41, line dip tank, bottle d7, lot 2417, 2026-11-30",
            await TitleAsync(new ReportAsked(
                new HistoryFilter(new StripFilter { Line = "dip tank", LotCode = "2417", Last = 1 }, Bottle: "d7"))));
        Assert.Equal(
            $"C-41, strip {StripId.ShortForm(strips[0].Id)}, 2026-11-25",
            await TitleAsync(new ReportAsked(new HistoryFilter(StripFilter.All), strips[0].Id.ToString())));
    }

    [Fact]
    public async Task Chart_of_the_report_has_its_strips_and_what_moved_in_each_line()
    {
        var strips = Enumerable.Range(0, 24).Select(i => StudyStore.Strip(i, (0.004 * (i % 3)) + (i < 12 ? 0 : 0.09)));
        await using var store = await _studies.OpenAsync(strips);

        var report =
            await new ReportDesk(store, _studies.Time).AskAsync(new ReportAsked(new HistoryFilter(StripFilter.All)), StudyStore.Token);

        Assert.Equal(24, report.Chart.Strips);
        Assert.NotEmpty(report.Findings);
        Assert.Equal(report.Findings.Length, report.Chart.Panels.Sum(p => p.Findings.Length));
    }
}
