using Acquire.Bench.Books;

namespace DemoTerm;

/// <summary>Keeps the books of the history as the commands keep real ones; what looks wrong to them is collected.</summary>
internal sealed class BookKeeper(AcquireStore store, HistoryClock clock, HistoryIds ids)
{
    private readonly DarkroomBooks _books = new(store, clock);

    /// <summary>What looked wrong.</summary>
    public List<string> Warnings { get; } = [];

    /// <summary>The books as they stand.</summary>
    public Task<Ledger> OpenAsync(CancellationToken cancellationToken) => _books.OpenAsync(cancellationToken);

    /// <summary>Enters what happened now, or earlier.</summary>
    /// <param name="by">Who.</param>
    /// <param name="make">Makes the entries.</param>
    /// <param name="cancellationToken">Cancels.</param>
    /// <param name="happened">When it happened; null for now.</param>
    /// <param name="note">A note.</param>
    public async Task EnterAsync(
        string by,
        Func<Ledger, Func<EntryStamp>, IEnumerable<BookEntry>> make,
        CancellationToken cancellationToken,
        DateTimeOffset? happened = null,
        string? note = null)
    {
        // With ids of its own, so that the term is the same whenever it is made.
        var at = happened ?? clock.Now;
        var entered = await store.InTransactionAsync(
            writing => _books.Enter(
                writing,
                by,
                at.ToUniversalTime(),
                (books, _) => make(books, () => new EntryStamp(ids.Next(clock.Now), at, clock.Now, by))
                    .Select(e => e with { Note = note ?? e.Note })),
            cancellationToken);
        Warnings.AddRange(entered.Warnings);
    }

    /// <summary>The line of a name.</summary>
    public static ProcessLine Line(Ledger books, string name) => books.Lines.Single(l => l.Name == name);

    /// <summary>The bottle of a name.</summary>
    public static Bottle Bottle(Ledger books, string name) => books.Bottles.Single(b => b.Name == name);

    /// <summary>The bottles of some names, in their order.</summary>
    public static ImmutableArray<Bottle> Bottles(Ledger books, IEnumerable<string> names) => [.. names.Select(n => Bottle(books, n))];
}
