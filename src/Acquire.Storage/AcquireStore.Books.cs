using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Adds entries to the books, all or none, in this order.</summary>
    /// <exception cref="StoreException">
    /// One is there already, or withdraws what is withdrawn already (<see cref="StoreFault.Duplicate"/>); or refers to an entry, lot or
    /// strip that is not there (<see cref="StoreFault.NotFound"/>).
    /// </exception>
    public Task AddBookEntriesAsync(IReadOnlyCollection<BookEntry> entries, CancellationToken cancellationToken) => WriteAsync(
        db =>
        {
            foreach (var entry in entries)
            {
                EntryWriter.Add(db, entry);
            }
        },
        cancellationToken);

    /// <summary>Every entry in the books, withdrawn ones too, in the order of entry.</summary>
    public Task<IReadOnlyList<BookEntry>> ListBookEntriesAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<BookEntry>>(EntryLoader.Load, cancellationToken);
}
