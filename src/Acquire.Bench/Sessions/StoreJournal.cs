namespace Acquire.Bench.Sessions;

/// <summary>Keeps the journal of one session in the store.</summary>
public sealed class StoreJournal(AcquireStore store, Guid sessionId) : ISessionJournal
{
    /// <inheritdoc/>
    public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken) =>
        store.AppendAsync(sessionId, entries, lines, cancellationToken);
}
