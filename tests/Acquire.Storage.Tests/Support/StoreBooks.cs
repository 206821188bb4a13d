namespace Acquire.Storage;

/// <summary>Books that a test begins with. The product decides about entries where it writes them, inside its own transaction.</summary>
internal static class StoreBooks
{
    public static Task AddBookEntriesAsync(
        this AcquireStore store, IReadOnlyCollection<BookEntry> entries, CancellationToken cancellationToken) => store.InTransactionAsync(
        writing =>
        {
            writing.AddBookEntries(entries);
            return entries.Count;
        },
        cancellationToken);
}
