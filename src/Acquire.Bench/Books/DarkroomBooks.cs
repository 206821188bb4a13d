namespace Acquire.Bench.Books;

/// <summary>When something happened, who enters it, and a note.</summary>
/// <param name="At">When, as <see cref="EntryTime"/> reads it; null for now.</param>
/// <param name="Note">A note; null for none.</param>
public sealed record EntryInput(string By, string? At = null, string? Note = null);

/// <param name="Warnings">What looks wrong about them; they are kept all the same.</param>
public sealed record Entered(ImmutableArray<BookEntry> Entries, Ledger Books, ImmutableArray<string> Warnings);

/// <summary>The books of a darkroom. What cannot be is refused with the reason; what looks wrong is kept and told.</summary>
/// <remarks>Every member throws <see cref="StoreException"/> when the store cannot be used.</remarks>
public sealed class DarkroomBooks(AcquireStore store, TimeProvider time)
{
    /// <summary>Opens the books as they stand.</summary>
    public async Task<Ledger> OpenAsync(CancellationToken cancellationToken) => new(await store.ListBookEntriesAsync(cancellationToken));

    /// <summary>When an entry is said to have happened.</summary>
    /// <exception cref="BenchException">It is no time.</exception>
    public DateTimeOffset When(string? at) => at is null ? time.GetUtcNow() : EntryTime.Parse(at, time.GetUtcNow(), time.LocalTimeZone);

    /// <summary>
    /// Makes entries. They are decided and written in one transaction, so that no other program decides by the same books meanwhile.
    /// </summary>
    /// <param name="make">Makes the entries from the books as they are, the moment, and a maker of stamps; runs in the transaction.</param>
    /// <exception cref="BenchException">It is no time, or a name is unknown.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A value cannot be.</exception>
    public Task<Entered> EnterAsync(
        EntryInput input, Func<Ledger, DateTimeOffset, Func<EntryStamp>, IEnumerable<BookEntry>> make, CancellationToken cancellationToken)
    {
        var at = When(input.At);
        return store.InTransactionAsync(
            writing =>
                Enter(writing, input.By, at, (books, stamp) => make(books, at, stamp).Select(e => e with { Note = input.Note ?? e.Note })),
            cancellationToken);
    }

    /// <summary>Takes the last entry back, or one that is named by a part of its id.</summary>
    /// <param name="part">A beginning or end of the entry's id; null for the last.</param>
    /// <exception cref="BenchException">There is no such entry, or others rest on it.</exception>
    public Task<Entered> UndoAsync(string? part, string reason, string by, CancellationToken cancellationToken) => EnterAsync(
        new EntryInput(by),
        (books, _, stamp) =>
        {
            var entry = Undoable(books, part);
            var resting = books.Dependents(entry.Id).Select(e => EntryText.Of(books, e)).ToList();
            return resting.Count == 0
                ? [new Withdrawal(stamp(), entry.Id, reason)]
                : throw new BenchException($"Not taken back: {EntryText.Of(books, entry)}. Other entries rest on it; take them back "
                    + $"first: {string.Join("; ", resting)}.");
        },
        cancellationToken);

    /// <summary>The lot of a stock.</summary>
    /// <exception cref="BenchException">There is no such lot.</exception>
    public async Task<StripLot> LotAsync(string code, CancellationToken cancellationToken) =>
        await store.FindLotAsync(code, cancellationToken)
        ?? throw new BenchException($"There is no lot {code}. Add it first: acquire lot add {code} --process c41");

    /// <summary>What the books say about a strip; null when they know nothing of it.</summary>
    public async Task<StripContext?> ContextAsync(StripRecord strip, CancellationToken cancellationToken) => StripContext.Of(
        await OpenAsync(cancellationToken), strip, await store.FindLotAsync(strip.LotCode, cancellationToken), time.LocalTimeZone);

    /// <summary>Makes entries that belong to something else which the same transaction writes.</summary>
    /// <exception cref="StoreException">An entry cannot be kept.</exception>
    internal Entered Enter(
        StoreTransaction writing, string by, DateTimeOffset at, Func<Ledger, Func<EntryStamp>, IEnumerable<BookEntry>> make)
    {
        // Warnings compare the books before and after, so that only what these entries bring about is told.
        var now = time.GetUtcNow();
        var before = new Ledger(writing.ListBookEntries());
        ImmutableArray<BookEntry> entries = [.. make(before, () => new EntryStamp(Guid.CreateVersion7(now), at, now, by))];
        writing.AddBookEntries(entries);
        var after = new Ledger(before.Entered.Concat(entries));
        var warnings = new BookWarnings(before, after, now, time.LocalTimeZone);
        return new Entered(
            entries,
            after, [.. entries.SelectMany(e => warnings.Of(e, e is StockMove move ? writing.FindLot(move.LotCode) : null)).Distinct()]);
    }

    private static BookEntry Undoable(Ledger books, string? part)
    {
        var standing = books.Standing.Select(e => e.Id).ToHashSet();
        if (part is null)
        {
            return books.Entered.LastOrDefault(e => standing.Contains(e.Id))
                ?? throw new BenchException("There is nothing in the books to take back.");
        }

        var wanted = part.Trim().Replace("-", "", StringComparison.Ordinal);
        var found = books.Entered.Where(e => wanted.Length >= StripId.FewestDigits && StripId.Fits(e.Id.ToString("N"), wanted)).ToList();
        return found switch
        {
            [Withdrawal] => throw new BenchException($"{part} is a withdrawal itself; enter again what it took back."),
            [var one] when !standing.Contains(one.Id) => throw new BenchException($"Taken back already: {EntryText.Of(books, one)}."),
            [var one] => one,
            [] => throw new BenchException($"There is no entry {part}. See: acquire event list --all"),
            _ => throw new BenchException($"'{part}' fits more than one entry; give more of its end."),
        };
    }
}
