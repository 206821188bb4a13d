using Acquire.Bench.Books;

namespace Acquire.Bench.Tests.Books;

/// <summary>Entries through a real store, by a clock that the test sets.</summary>
public sealed class DarkroomBooksTests : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-books-").FullName;
    private readonly FakeTimeProvider _time = new(SomeBooks.At(20));
    private AcquireStore _store = null!;
    private DarkroomBooks _books = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _store = await EmptyStore.OpenAsync(_folder, _time, Token);
        _books = new DarkroomBooks(_store, _time);
        await _store.AddBookEntriesAsync(SomeBooks.Books().Entered, Token);
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task Entry_in_order_is_kept_without_a_word()
    {
        var entered = await UseAsync(SomeBooks.D7, "-1h");

        Assert.Empty(entered.Warnings);
        var stamp = Assert.Single(entered.Entries).Stamp;
        Assert.Equal((SomeBooks.At(19), SomeBooks.At(20), "staff"), (stamp.HappenedAt, stamp.EnteredAt, stamp.By));
        Assert.Equal(entered.Entries[0].Id, (await _store.ListBookEntriesAsync(Token))[^1].Id);
    }

    [Fact]
    public async Task Clock_set_back_is_told_and_the_entry_kept()
    {
        await UseAsync(SomeBooks.D7, null);
        var back = new DarkroomBooks(_store, new FakeTimeProvider(SomeBooks.At(6)));
        var entered = await back.EnterAsync(new Made(stamp => Films(stamp, SomeBooks.D7)), new EntryInput("staff"), Token);

        Assert.Contains("was the clock set back?", Assert.Single(entered.Warnings), StringComparison.Ordinal);
        Assert.Equal(0.2, (await _books.OpenAsync(Token)).At(SomeBooks.D7, SomeBooks.At(20)).AreaUsed, 12);
    }

    [Theory]
    [InlineData("2026-11-25T19:10Z", "was mixed on 2026-11-25 19:40, after this use")]
    [InlineData("2026-11-25T20:10Z", "was filled on 2026-11-25 20:40, after this use")]
    [InlineData("2026-11-28T10:00Z", "is still to come")]
    public async Task Use_at_a_time_that_cannot_be_right_is_told_and_kept(string at, string said)
    {
        var entered = await UseAsync(SomeBooks.D7, at);

        Assert.Contains(said, Assert.Single(entered.Warnings), StringComparison.Ordinal);
        Assert.Equal(0.1, (await _books.OpenAsync(Token)).At(SomeBooks.D7, SomeBooks.At(100)).AreaUsed, 12);
    }

    [Fact]
    public async Task Same_use_of_the_same_moment_is_told_and_both_count()
    {
        await UseAsync(SomeBooks.D7, "-1h");
        var entered = await UseAsync(SomeBooks.D7, "-1h");

        Assert.Contains("in the books already", Assert.Single(entered.Warnings), StringComparison.Ordinal);
        Assert.Equal(0.2, entered.Books.At(SomeBooks.D7, SomeBooks.At(20)).AreaUsed, 12);
    }

    [Fact]
    public async Task Use_of_a_discarded_bottle_is_told_and_kept()
    {
        await EnterAsync("-3h", stamp => new BottleEvent(stamp, SomeBooks.D7.Id, BottleEventKind.Discarded));

        Assert.Contains("was discarded on", Assert.Single((await UseAsync(SomeBooks.D7, "-1h")).Warnings), StringComparison.Ordinal);
        Assert.Empty((await UseAsync(SomeBooks.D7, "-4h")).Warnings);
    }

    [Fact]
    public async Task Discarding_dated_before_other_entries_of_the_bottle_is_told_and_kept()
    {
        await UseAsync(SomeBooks.D7, "-1h");
        var entered = await EnterAsync("-3h", stamp => new BottleEvent(stamp, SomeBooks.D7.Id, BottleEventKind.Discarded));

        Assert.Contains("after it was discarded, the last on 2026-11-26 13:40: 2 × 120", Told(entered), StringComparison.Ordinal);
        Assert.Equal(SomeBooks.At(17), entered.Books.DiscardedAt(SomeBooks.D7));
    }

    [Fact]
    public async Task Bottle_of_another_process_than_the_line_is_told_and_kept()
    {
        var first = new Solution(SomeBooks.Stamp(3), "first 2", SolutionKind.FirstDeveloper, "e6", 1);
        var bottle = new Bottle(SomeBooks.Stamp(3), "F2", first.Id, 1, new BottleStorage());
        await _store.AddBookEntriesAsync([first, bottle], Token);

        Assert.Contains(
            "Bottle F2 is for e6, line dip tank for c41",
            Told(await EnterAsync(null, stamp => SomeBooks.Use(19, SomeBooks.Tank, bottle) with { Stamp = stamp })),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Volumes_that_do_not_add_up_are_told_and_kept()
    {
        Assert.Empty((await EnterAsync("-3h", stamp => new BottleEvent(stamp, SomeBooks.D7.Id, BottleEventKind.Poured, 0.8))).Warnings);
        Assert.Contains(
            "500 mL more was poured",
            Told(await EnterAsync("-2h", stamp => new BottleEvent(stamp, SomeBooks.D7.Id, BottleEventKind.Poured, 0.7))),
            StringComparison.Ordinal);
        Assert.Contains(
            "3 L is in bottles",
            Told(await EnterAsync("-2h", stamp => new Bottle(stamp, "D9", SomeBooks.Developer.Id, 1, new BottleStorage()))),
            StringComparison.Ordinal);
        var small = await EnterAsync("-2h", stamp => new Bottle(stamp, "B5", SomeBooks.Bleach.Id, 1, new BottleStorage(capacity: 0.5)));
        Assert.Contains(small.Warnings, w => w.Contains("does not go into a bottle that holds 500 mL", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Strips_of_an_expired_lot_and_more_than_there_are_are_told_and_kept()
    {
        var layout = new Domain.Strips.StripLayout("one", [new("ld", "LD")]);
        await _store.AddLotAsync(new StripLot("2417", "c41", layout, expires: new DateOnly(2026, 11, 20)), Token);
        await _store.AddLotAsync(new StripLot("2418", "c41", layout, expires: new DateOnly(2027, 11, 20)), Token);

        Assert.Contains("expired on 2026-11-20", Told(await MoveAsync("2417", StockMoveKind.Added, 8)), StringComparison.Ordinal);
        Assert.Empty((await MoveAsync("2418", StockMoveKind.Added, 8)).Warnings);
        Assert.Contains("only 0 of lot 2418 was out", Told(await MoveAsync("2418", StockMoveKind.Returned, 1)), StringComparison.Ordinal);
        Assert.Contains("6 strips of lot 2418 left", Told(await MoveAsync("2418", StockMoveKind.Used, 2)), StringComparison.Ordinal);
        Assert.Contains("1 more of lot 2418 went", Told(await MoveAsync("2418", StockMoveKind.Used, 7)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Undo_takes_the_last_entry_back_then_the_one_before()
    {
        await UseAsync(SomeBooks.D7, "-2h");
        await UseAsync(SomeBooks.D8, "-5h");
        await UndoAsync(null, "wrong bottle");
        var books = (await UndoAsync(null, "wrong bottle")).Books;

        Assert.Empty(books.Uses);
        Assert.Equal(2, books.Entered.OfType<FilmUse>().Count());
        Assert.Equal(["wrong bottle", "wrong bottle"], books.Entered.OfType<Withdrawal>().Select(w => w.Reason));
    }

    [Fact]
    public async Task Undo_of_what_others_rest_on_is_refused_and_names_them()
    {
        await UseAsync(SomeBooks.D7, "-2h");
        var fault = await Assert.ThrowsAsync<BenchException>(() => UndoAsync(SomeBooks.D7.Id.ToString("N")[^8..], "why not"));

        Assert.Contains("2 × 120", fault.Message, StringComparison.Ordinal);
        Assert.Empty((await _books.OpenAsync(Token)).Entered.OfType<Withdrawal>());
    }

    [Theory]
    [InlineData("ffff")]
    [InlineData("1")]
    public async Task Undo_of_no_entry_is_refused(string part) => Assert.Contains(
        "no entry",
        (await Assert.ThrowsAsync<BenchException>(() => UndoAsync(part, "x"))).Message, StringComparison.Ordinal);

    private static string Told(Entered entered) => Assert.Single(entered.Warnings);

    private static FilmUse Films(EntryStamp stamp, Bottle bottle) =>
        new(stamp, [FilmCount.Of(FilmFormat.Find("120")!, 2)], [bottle.Id], null);

    private Task<Entered> UseAsync(Bottle bottle, string? at) => EnterAsync(at, stamp => Films(stamp, bottle));

    private Task<Entered> MoveAsync(string lot, StockMoveKind kind, int strips) =>
        EnterAsync(null, stamp => new StockMove(stamp, lot, kind, strips));

    private Task<Entered> UndoAsync(string? entry, string reason) =>
        _books.EnterAsync(new UndoRequest(entry, reason), new EntryInput("staff"), Token);

    private Task<Entered> EnterAsync(string? at, Func<EntryStamp, BookEntry> make) =>
        _books.EnterAsync(new Made(make), new EntryInput("staff", at), Token);

    /// <summary>An entry as it is, whatever the books say.</summary>
    private sealed record Made(Func<EntryStamp, BookEntry> Entry) : BookRequest
    {
        internal override IEnumerable<BookEntry> Make(BookDraft draft) => [Entry(draft.Stamp())];
    }
}
