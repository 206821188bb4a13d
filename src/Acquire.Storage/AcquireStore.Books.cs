using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Every entry in the books, withdrawn ones too, in the order of entry.</summary>
    public Task<IReadOnlyList<BookEntry>> ListBookEntriesAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<BookEntry>>(EntryLoader.Load, cancellationToken);
}
