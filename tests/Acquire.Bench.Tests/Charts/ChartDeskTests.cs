using Acquire.Analysis.Charts;
using Acquire.Bench.Charts;
using Acquire.Bench.History;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Charts;

public sealed class ChartDeskTests : IDisposable
{
    private static readonly HistoryFilter All = new(StripFilter.All);
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Fact]
    public async Task Chart_has_events_findings_and_a_note_of_strips_of_other_processes()
    {
        await using var store = await _studies.OpenAsync(
            [StudyStore.Strip(-1, 0, sheet: StudyStore.House), .. Enumerable.Range(0, 24)
                .Select(i => StudyStore.Strip(i, (0.004 * (i % 3)) + (i < 12 ? 0 : 0.09)))]);
        var at = Some.Moment.AddDays(11.5);
        await store.AddBookEntriesAsync(
            [new BookEvent(new EntryStamp(Guid.CreateVersion7(at), at, at, "staff"), BookEventKind.Repair, "heater changed")],
            StudyStore.Token);

        var chart = await new ChartDesk(store, _studies.Time).AskAsync(new ChartAsked(All) { Parameters = ["contrast"] }, StudyStore.Token);

        Assert.Null(chart.WhyEmpty);
        Assert.Equal((24, "contrast"), (chart.Model.Strips, Assert.Single(chart.Model.Panels).Parameter.Key));
        Assert.Equal("heater changed", Assert.Single(chart.Model.Events).Event.Text);
        Assert.NotEmpty(chart.Model.Panels[0].Findings);
        Assert.Contains("1 strip of other processes left out; --process chooses one.", chart.Model.Notes);
    }

    [Fact]
    public async Task Axis_that_the_books_do_not_tell_leaves_an_empty_chart_that_says_why()
    {
        await using var store = await _studies.OpenAsync([StudyStore.Strip(0, 0)]);

        var chart = await new ChartDesk(store, _studies.Time).AskAsync(new ChartAsked(All) { Axis = ChartAxis.AgeOfMix }, StudyStore.Token);

        Assert.StartsWith(
            "No strip has a place on this axis. 1 strip is not on the chart: the books do not tell the age of their mix.",
            chart.WhyEmpty, StringComparison.Ordinal);
    }

    [Fact]
    public async Task No_strip_and_no_such_parameter_are_refused()
    {
        await using var store = await _studies.OpenAsync([StudyStore.Strip(0, 0)]);
        var desk = new ChartDesk(store, _studies.Time);

        await Assert.ThrowsAsync<BenchException>(
            () => desk.AskAsync(new ChartAsked(All with { Bottle = "D9" }), StudyStore.Token));
        await Assert.ThrowsAsync<ImpossibleValueException>(
            () => desk.AskAsync(new ChartAsked(All) { Parameters = ["fog"] }, StudyStore.Token));
    }
}
