using Acquire.Bench.Lots;
using Acquire.Bench.Processes;
using Acquire.Bench.Strips;
using Acquire.Storage.Records;

namespace Acquire.Bench.Tests.Strips;

/// <summary>What any face asks of the strip records, through a real store.</summary>
public sealed class StripBookTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-strip-book-").FullName;
    private StripRecord _strip = null!;
    private AcquireStore _store = null!;
    private StripBook _book = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await AcquireStore.OpenAsync(_folder, TimeProvider.System, Token);
        _book = new StripBook(_store, new LotBook(_store, new ProcessLibrary(_folder), TimeProvider.System), TimeProvider.System);
        var lot = Support.Strips.Lot();
        _strip = Support.Strips.Strip(lot);
        await _store.AddLotAsync(lot.Lot, Token);
        await _store.AddReferenceAsync(lot.Reference!, Token);
        await _store.AddStripAsync(_strip, Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Correction_is_the_next_revision_and_each_can_be_shown()
    {
        var amended = await _book.AmendAsync(
            new AmendRequest(Part, new StripAmendment("wrong bottle", "staff") { Tags = tags => tags with { Bottle = "D8" } }), Token);

        Assert.Equal((1, 2), (amended.Before.Revision.Number, amended.After.Revision.Number));
        Assert.Equal("D8", (await _book.ShowAsync(new StripShowRequest(Part, 0.95), Token)).Strip.Tags.Bottle);
        Assert.Equal(_strip.Tags.Bottle, (await _book.ShowAsync(new StripShowRequest(Part, 0.95, 1), Token)).Strip.Tags.Bottle);
        Assert.Equal([1, 2], (await _book.HistoryAsync(Part, Token)).Select(r => r.Revision.Number));
        Assert.Equal(2, Assert.Single(await _book.ListAsync(StripFilter.All, 0.95, Token)).Strip.Revision.Number);
    }

    [Fact]
    public async Task What_is_not_there_is_refused_and_told()
    {
        await RefusedAsync("There is no strip ffff", () => _book.HistoryAsync("ffff", Token));
        await RefusedAsync("has no revision 7; it has 1 to 1", () => _book.ShowAsync(new StripShowRequest(Part, 0.95, 7), Token));
        await RefusedAsync("different strips of one process", () => _book.TogetherAsync([Part, Part], 0.95, Token));
        await RefusedAsync("There is no lot 9", () => _book.AmendAsync(new AmendRequest(Part, new("wrong box", "staff"), "9"), Token));
        await RefusedAsync("Nothing about strip", () => _book.AmendAsync(new AmendRequest(Part, new("no change", "staff")), Token));
        Assert.Single(await _book.HistoryAsync(Part, Token));
    }

    private string Part => _strip.Id.ToString("N")[^8..];

    private static async Task RefusedAsync(string said, Func<Task> ask) =>
        Assert.Contains(said, (await Assert.ThrowsAsync<BenchException>(ask)).Message, StringComparison.Ordinal);
}
