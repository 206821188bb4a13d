namespace Acquire.Bench.Books;

/// <summary>A bottle at a moment and everything that happened to it.</summary>
/// <param name="Taken">What was taken because no bottle was named, in a sentence; empty where one was.</param>
public sealed record BottleView(BottleState State, ImmutableArray<BookEntry> History, Ledger Books, ImmutableArray<string> Taken);

/// <summary>A line at a moment and every change of its method.</summary>
public sealed record LineView(LineState State, ImmutableArray<BookEntry> Methods, Ledger Books);

/// <summary>A mix and the bottles that it went into, now.</summary>
public sealed record MixView(Solution Mix, TimeSpan? Age, ImmutableArray<BottleState> Bottles);

/// <summary>Entries, with the books that they are to be read by.</summary>
public sealed record EntryView(ImmutableArray<BookEntry> Entries, Ledger Books);

/// <summary>What the books show. Every member throws <see cref="StoreException"/> when the store cannot be read.</summary>
public sealed class BookViews(AcquireStore store, TimeProvider time)
{
    private readonly DarkroomBooks _books = new(store, time);

    /// <summary>The bottles as they are now.</summary>
    /// <param name="all">Those out of use too.</param>
    public async Task<ImmutableArray<BottleState>> BottlesAsync(bool all, CancellationToken cancellationToken)
    {
        var (books, now) = (await _books.OpenAsync(cancellationToken), time.GetUtcNow());
        return [.. books.Bottles.Where(b => all || !(books.DiscardedAt(b) <= now)).Select(b => books.At(b, now))];
    }

    /// <param name="name">The bottle; null for the one at hand.</param>
    /// <param name="at">When, as <see cref="EntryTime"/> reads it; null for now.</param>
    /// <exception cref="BenchException">There is none such, or it is no time.</exception>
    public async Task<BottleView> BottleAsync(string? name, string? at, CancellationToken cancellationToken)
    {
        var (books, when) = (await _books.OpenAsync(cancellationToken), _books.When(at));
        var choice = new BookChoice(books, when);
        var bottle = choice.Bottle(name);
        return new BottleView(
            books.At(bottle, when),
            [.. books.Standing.Where(e => e.Id == bottle.Id || e.RefersTo.Contains(bottle.Id))],
            books,
            choice.Taken);
    }

    /// <summary>The lines as they are now.</summary>
    public async Task<ImmutableArray<LineState>> LinesAsync(CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        return [.. books.Lines.Select(l => books.At(l, time.GetUtcNow()))];
    }

    /// <param name="at">When, as <see cref="EntryTime"/> reads it; null for now.</param>
    /// <exception cref="BenchException">There is none such, or it is no time.</exception>
    public async Task<LineView> LineAsync(string name, string? at, CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        var line = BookNames.Line(books, name);
        return new LineView(
            books.At(line, _books.When(at)), [.. books.Standing.Where(e => e is LineMethod method && method.LineId == line.Id)], books);
    }

    public async Task<ImmutableArray<MixView>> MixesAsync(CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        return [.. books.Solutions.Select(m => Of(books, m))];
    }

    /// <exception cref="BenchException">There is none such.</exception>
    public async Task<MixView> MixAsync(string name, CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        return Of(books, BookNames.Solution(books, name));
    }

    /// <summary>The events in the order of what happened.</summary>
    /// <param name="all">Every entry, withdrawn ones too.</param>
    public async Task<EntryView> EventsAsync(bool all, CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        return new EntryView(all ? [.. books.Entered.OrderBy(e => e.HappenedAt)] : [.. books.Events], books);
    }

    /// <summary>The film that was processed.</summary>
    public async Task<EntryView> UsesAsync(CancellationToken cancellationToken)
    {
        var books = await _books.OpenAsync(cancellationToken);
        return new EntryView([.. books.Uses], books);
    }

    /// <summary>The strips in stock, lot by lot.</summary>
    /// <param name="lot">Code number of one lot; null for every lot that is counted.</param>
    /// <param name="at">When, as <see cref="EntryTime"/> reads it; null for now.</param>
    /// <exception cref="BenchException">There is no such lot, or it is no time.</exception>
    public async Task<ImmutableArray<LotStock>> StocksAsync(string? lot, string? at, CancellationToken cancellationToken)
    {
        var (books, when) = (await _books.OpenAsync(cancellationToken), _books.When(at));
        var stocks = new List<LotStock>();
        foreach (var code in lot is null ? books.StockedLots : [lot])
        {
            stocks.Add(await OfAsync(books, code, when, cancellationToken));
        }

        return [.. stocks];
    }

    /// <summary>The stock of the lot of which strips were just moved, as it was at that moment.</summary>
    public Task<LotStock> StockAfterAsync(Entered entered, CancellationToken cancellationToken)
    {
        var move = entered.Entries.OfType<StockMove>().Single();
        return OfAsync(entered.Books, move.LotCode, move.HappenedAt, cancellationToken);
    }

    private async Task<LotStock> OfAsync(Ledger books, string code, DateTimeOffset at, CancellationToken cancellationToken)
    {
        var lot = await store.FindLotAsync(code, cancellationToken) ?? throw StockRequest.NoLot(code);
        var day = DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, time.LocalTimeZone).DateTime);
        return new LotStock(books.StockAt(code, at), lot, at, StockState.DaysToExpiry(lot.Expires, day));
    }

    private MixView Of(Ledger books, Solution mix)
    {
        var now = time.GetUtcNow();
        return new MixView(
            mix,
            mix.HappenedAt <= now ? now - mix.HappenedAt : null,
            [.. books.Bottles.Where(b => b.SolutionId == mix.Id).Select(b => books.At(b, now))]);
    }
}
