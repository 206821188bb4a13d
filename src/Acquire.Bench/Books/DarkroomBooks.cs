namespace Acquire.Bench.Books;

/// <summary>When something happened, who enters it, and a note.</summary>
/// <param name="At">When, as <see cref="EntryTime"/> reads it; null for now.</param>
/// <param name="Note">A note; null for none.</param>
public sealed record EntryInput(string By, string? At = null, string? Note = null);

/// <param name="Books">The books with them.</param>
/// <param name="Warnings">What looks wrong about them; they are kept all the same.</param>
public sealed record Entered(ImmutableArray<BookEntry> Entries, Ledger Books, ImmutableArray<string> Warnings)
{
    /// <summary>What was taken because nothing was named, in sentences.</summary>
    public ImmutableArray<string> Taken { get; init; } = [];
}

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
    /// <exception cref="BenchException">It is no time, a name is unknown, or what is needed is not named.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A value cannot be.</exception>
    public Task<Entered> EnterAsync(BookRequest request, EntryInput input, CancellationToken cancellationToken)
    {
        var at = When(input.At);
        return store.InTransactionAsync(
            writing =>
            {
                BookDraft draft = null!;
                var entered = Enter(writing, input.By, at, (books, stamp) =>
                {
                    draft = new BookDraft(books, at, stamp, writing.FindLot, time);
                    return request.Make(draft).Select(e => e with { Note = input.Note ?? e.Note });
                });
                return entered with { Taken = draft.Taken };
            },
            cancellationToken);
    }

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
}
