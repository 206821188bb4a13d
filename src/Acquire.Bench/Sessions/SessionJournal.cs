namespace Acquire.Bench.Sessions;

/// <summary>
/// Where what happens in one bench session is kept before anything of it is shown. A failure to keep it is thrown to the session.
/// </summary>
public interface ISessionJournal
{
    /// <summary>Returns when the entries, and the lines that they ended, are durable; all of them or none.</summary>
    Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken);
}

/// <summary>Keeps the journal of one session in the store.</summary>
public sealed class StoreJournal(AcquireStore store, Guid sessionId) : ISessionJournal
{
    /// <inheritdoc/>
    public Task AppendAsync(IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken) =>
        store.AppendAsync(sessionId, entries, lines, cancellationToken);
}
