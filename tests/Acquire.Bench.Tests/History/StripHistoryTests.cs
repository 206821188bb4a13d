using System.Collections.Immutable;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.ProcessSheets;
using Acquire.Bench.History;
using Acquire.Bench.Tests.Support;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Lots;
using Acquire.Domain.Processes;
using Acquire.Domain.Records;
using Acquire.Domain.Strips;
using Acquire.Storage;
using Acquire.Storage.Strips;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Bench.Tests.History;

public sealed class StripHistoryTests : IDisposable
{
    private static readonly ProcessSheet C41 = ShippedSheets.Get("c41");
    private static readonly ProcessSheet House = new("house", "House process", C41.Status, C41.Layout, C41.Parameters);
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-history-").FullName;
    private readonly FakeTimeProvider _time = new(Some.Moment);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Time_of_a_point_is_in_the_local_offset()
    {
        _time.SetLocalTimeZone(TimeZoneInfo.CreateCustomTimeZone("here", TimeSpan.FromHours(-5), "here", "here"));
        var point = StripHistory.PointOf(Strip(0, "D7", C41), _time);
        Assert.Equal((Some.Moment, TimeSpan.FromHours(-5), 13), (point.At, point.At.Offset, point.At.Hour));
    }

    [Fact]
    public async Task Newest_strips_process_is_taken_and_others_are_counted()
    {
        await using var store = await StoreAsync(Strip(0, "D7", C41), Strip(1, "D7", House), Strip(2, "D7", C41));
        var history = await LoadAsync(store, new HistoryFilter(StripFilter.All));
        Assert.Equal(("c41", 2, 1), (history!.Sheet.Key, history.Strips.Length, history.OfOtherProcesses));
        Assert.Equal("house", (await LoadAsync(store, new HistoryFilter(StripFilter.All, Process: "house PROCESS")))!.Sheet.Key);
        Assert.Null(await LoadAsync(store, new HistoryFilter(StripFilter.All, Process: "e6")));
    }

    [Fact]
    public async Task Last_strips_are_counted_among_those_of_the_bottle()
    {
        await using var store = await StoreAsync(Strip(0, "D7", C41), Strip(1, "D7", C41), Strip(2, "D8", C41), Strip(3, "D8", C41));
        var history = await LoadAsync(store, new HistoryFilter(StripFilter.All with { Last = 1 }, Bottle: "d7"));
        Assert.Equal(Some.Moment.AddDays(1), history!.Strips.Single().At);
        Assert.Equal(0.02, history.Strips.Single().Judgement.Results.First(r => r.Parameter.Key == "dmin").Deviation!.Value, 1e-9);
    }

    private Task<StripHistory?> LoadAsync(AcquireStore store, HistoryFilter filter) =>
        StripHistory.LoadAsync(store, filter, _time, TestContext.Current.CancellationToken);

    private async Task<AcquireStore> StoreAsync(params StripRecord[] strips)
    {
        var store = await AcquireStore.OpenAsync(_folder, _time, TestContext.Current.CancellationToken);
        foreach (var lot in strips.Select(s => (s.LotCode, s.JudgedBy.Key)).Distinct())
        {
            await store.AddLotAsync(new StripLot(lot.LotCode, lot.Key, C41.Layout), TestContext.Current.CancellationToken);
        }

        foreach (var strip in strips)
        {
            await store.AddStripAsync(strip, TestContext.Current.CancellationToken);
        }

        return store;
    }

    private static StripRecord Strip(int day, string bottle, ProcessSheet sheet)
    {
        var at = Some.Moment.AddDays(day);
        ImmutableArray<PatchReads> patches =
            [.. C41.Layout.Patches.Select(p => new PatchReads(p, [new PatchRead(Reading.Entered(ChannelDensities.Rgb(0.52m, 0.52m, 0.52m), at))]))];
        return new StripRecord(
            Guid.CreateVersion7(at),
            sheet.Key + "-2417",
            C41.Layout,
            sheet,
            patches,
            PatchMeans.Of(patches),
            [new Aim("dmin", Channel.Red, 0.50, 0, 0.001)],
            new Provenance(at, "darkroom staff", null),
            Revision.First("darkroom staff", at, "read"))
        {
            Bottle = bottle,
        };
    }
}
