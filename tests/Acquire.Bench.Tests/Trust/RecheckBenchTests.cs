using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Readings;
using Acquire.Bench.Trust;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Bench.Tests.Trust;

/// <summary>A reference strip read again, through a real store; only the port is scripted.</summary>
public sealed class RecheckBenchTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-bench-").FullName;
    private readonly ScriptedLink _link = new();
    private AcquireStore _store = null!;
    private LotBook _lots = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, TimeProvider.System, Token);
        _lots = new LotBook(_store, new ProcessLibrary(Path.Combine(_folder, "processes")), TimeProvider.System);
        await _store.AddLotAsync(new StripLot("4410", "c41", ShippedSheets.Get("c41").Layout), Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Recheck_leaves_the_aims_and_is_charted()
    {
        var reference = await _lots.EnterReferenceAsync(
            "4410", [.. ShippedSheets.Get("c41").Layout.Patches.Select(
                p => new EnteredDensities(p.Key, ChannelDensities.Rgb(0.5m, 0.8m, 1.0m)))], "staff", "typed", Token);
        var reviews = new List<RecheckReview>();
        foreach (var red in (string[])["0.50", "0.51", "0.50", "0.70"])
        {
            _link.Send(string.Concat(Enumerable.Repeat($"R {red} G 0.80 B 1.00\r\n", 5)));
            reviews.Add((await RecheckAsync()).Kept!);
        }

        Assert.Equal([true, true, true, false], reviews.Select(c => c.Holds));
        Assert.Equal(5, reviews[3].Outside);
        Assert.All(reviews[3].Series, s => Assert.Equal(s.Channel == Channel.Red, s.Chart.Points[^1].MeanOutside));
        Assert.Equal(reference.Id, (await _store.CurrentReferenceAsync("4410", Token))!.Id);
        Assert.Equal(4, (await _store.ListRechecksAsync("4410", Token)).Count);
    }

    [Fact]
    public async Task Lot_without_reference_cannot_be_rechecked()
    {
        var fault = await Assert.ThrowsAsync<BenchException>(RecheckAsync);
        Assert.Contains("no reference yet", fault.Message, StringComparison.Ordinal);
    }

    private Task<ReadingResult<RecheckReview>> RecheckAsync() =>
        Desk.At(_store, _lots, _link).ReadAsync(new RecheckRequest("4410"), Desk.Terms(1), Desk.Seat(), Token);
}
