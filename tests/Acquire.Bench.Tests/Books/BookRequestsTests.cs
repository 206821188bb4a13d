using Acquire.Bench.Books;

namespace Acquire.Bench.Tests.Books;

/// <summary>What any face asks of the books: names are found, what is not named is what is at hand, and the result says so.</summary>
public sealed class BookRequestsTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-requests-").FullName;
    private readonly FakeTimeProvider _time = new(SomeBooks.At(20));
    private AcquireStore _store = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _store = await AcquireStore.OpenAsync(_folder, _time, Token);

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Mix_bottle_and_film_follow_from_what_is_at_hand_and_the_result_says_what_was_taken()
    {
        await EnterAsync(new LineRequest("dip tank", LineKind.DipTank, "c41", new LineMethodSaid("lift", 37.8, null)));
        Assert.Equal(["Taken, since none was named: process c41."], (await EnterAsync(Mix("dev1"))).Taken);
        Assert.Equal(["Taken, since none was named: dev1."], (await EnterAsync(new FillRequest("D1") { IsFull = true })).Taken);
        var used = await EnterAsync(new UseRequest([FilmCount.Of(FilmFormat.Find("120")!, 2)]));

        Assert.Equal(["Taken, since none was named: bottle D1, line dip tank."], used.Taken);
        var bottle = await Views.BottleAsync(null, null, Token);
        Assert.Equal(["Taken, since none was named: bottle D1."], bottle.Taken);
        Assert.Equal((0.1, 1, 1), (bottle.State.AreaUsed, bottle.State.Filled, bottle.State.Storage.Capacity!.Value));
        Assert.Equal([typeof(Bottle), typeof(FilmUse)], bottle.History.Select(e => e.GetType()));
        Assert.Equal(37.8, Assert.Single((await Views.LineAsync("dip", null, Token)).Methods.OfType<LineMethod>()).Temperature);
        Assert.Equal("D1", Assert.Single((await Views.MixAsync("dev1", Token)).Bottles).Bottle.Name);
    }

    [Fact]
    public async Task Name_of_a_bottle_is_free_once_it_is_discarded()
    {
        await EnterAsync(Mix("dev1") with { ProcessKey = "c41" });
        await EnterAsync(new FillRequest("D1") { Volume = 0.5 });
        Assert.Contains("Bottle D1 is in use", await RefusedAsync(new FillRequest(" d1 ") { Volume = 0.5 }), StringComparison.Ordinal);

        await EnterAsync(new BottleRequest("D1", BottleEventKind.Discarded) { Reason = "cloudy" });
        var again = await EnterAsync(new FillRequest("D1"));

        Assert.Equal(0.5, Assert.IsType<Bottle>(Assert.Single(again.Entries)).Volume);
        Assert.Equal("cloudy", Assert.Single(again.Books.Entered.OfType<BottleEvent>()).Note);
        Assert.Contains("all of dev1 (1 L) is in bottles", await RefusedAsync(new FillRequest("D2")), StringComparison.Ordinal);
        Assert.Single(await Views.BottlesAsync(all: false, Token));
        Assert.Equal(2, (await Views.BottlesAsync(all: true, Token)).Length);
    }

    [Fact]
    public async Task Strips_are_counted_for_the_lot_moved_last_and_a_lot_that_is_not_there_is_refused()
    {
        var layout = new Domain.Strips.StripLayout("one", [new("ld", "LD")]);
        await _store.AddLotAsync(new StripLot("2417", "c41", layout, expires: new DateOnly(2026, 12, 6)), Token);

        Assert.Contains("There is no lot 9", await RefusedAsync(new StockRequest("9", StockMoveKind.Added, 20)), StringComparison.Ordinal);
        Assert.Contains("Which lot?", await RefusedAsync(new StockRequest(null, StockMoveKind.Added, 20)), StringComparison.Ordinal);
        await EnterAsync(new StockRequest("2417", StockMoveKind.Added, 20));
        var used = await EnterAsync(new StockRequest(null, StockMoveKind.Used, 2));

        Assert.Equal(["Taken, since none was named: lot 2417."], used.Taken);
        var stock = await Views.StockAfterAsync(used, Token);
        Assert.Equal((18, 10), (stock.State.Left, stock.DaysToExpiry!.Value));
        Assert.Equal(18, Assert.Single(await Views.StocksAsync(null, null, Token)).State.Left);
    }

    [Theory]
    [MemberData(nameof(Lacking))]
    public async Task Request_that_says_too_little_is_refused_and_nothing_is_entered(BookRequest request, string said)
    {
        Assert.Contains(said, await RefusedAsync(request), StringComparison.Ordinal);
        Assert.Empty((await Views.EventsAsync(all: true, Token)).Entries);
    }

    public static TheoryData<BookRequest, string> Lacking => new()
    {
        { new UseRequest([]), "Say what was processed" },
        { new UseRequest([FilmCount.Of(FilmFormat.ControlStrip)]), "Which bottle?" },
        { new MixRequest("dev1", SolutionKind.Developer, 1), "Which process?" },
        { new FillRequest("D1"), "no mix yet" },
        { new BottleRequest(null, BottleEventKind.Opened), "Which bottle?" },
        { new BottleRequest("D1", BottleEventKind.StoredAnew) { Storage = new BottleStorage() }, "Say what changed" },
        { new MethodRequest(null, new LineMethodSaid(null, null, null)), "Say what changed" },
        { new MethodRequest(null, new LineMethodSaid(null, 38, null)), "Which line?" },
        { new UndoRequest(null, "by mistake"), "nothing in the books" },
    };

    private BookViews Views => new(_store, _time);

    private static MixRequest Mix(string name) => new(name, SolutionKind.Developer, 1);

    private Task<Entered> EnterAsync(BookRequest request)
    {
        // A minute between entries, so that they have an order.
        _time.Advance(TimeSpan.FromMinutes(1));
        return new DarkroomBooks(_store, _time).EnterAsync(request, new EntryInput("staff"), Token);
    }

    private async Task<string> RefusedAsync(BookRequest request) =>
        (await Assert.ThrowsAsync<BenchException>(() => EnterAsync(request))).Message;
}
