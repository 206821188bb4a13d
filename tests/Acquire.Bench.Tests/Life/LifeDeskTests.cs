using Acquire.Bench.History;
using Acquire.Bench.Life;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Life;

public sealed class LifeDeskTests : IDisposable
{
    private static readonly LifeAsked All = new(new HistoryFilter(StripFilter.All));
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Fact]
    public async Task Strips_named_to_be_left_out_are_and_what_else_is_left_out_is_told()
    {
        StripRecord[] strips = [.. Enumerable.Range(0, 3).Select(i => StudyStore.Strip(i, 0))];
        await using var store = await _studies.OpenAsync(strips);
        var desk = new LifeDesk(store, _studies.Time);

        var life = await desk.AskAsync(All with { Without = [StripId.ShortForm(strips[1].Id)] }, StudyStore.Token);

        Assert.Equal([strips[0].Id, strips[2].Id], life.History.Records.Select(r => r.Id));
        Assert.Equal([strips[0].Id, strips[2].Id], life.History.Strips.Select(s => s.StripId));
        Assert.EndsWith("2 strips left out: the books do not tell the age of what they ran in.", life.WhyNone, StringComparison.Ordinal);
        var unknown = await Assert.ThrowsAsync<BenchException>(() => desk.AskAsync(All with { Without = ["ffff0000"] }, StudyStore.Token));
        Assert.Equal("There is no strip ffff0000. See: acquire strip list", unknown.Message);
    }

    [Fact]
    public void Question_that_cannot_be_asked_is_refused_before_anything_is_loaded()
    {
        Assert.Equal("line", (All with { Compare = "LINE" }).Compare);
        Assert.Throws<BenchException>(() => All with { Compare = "colour" });
        Assert.All([0, -0.1, 4.1, double.NaN], d => Assert.Throws<BenchException>(() => All with { See = d }));
    }
}
