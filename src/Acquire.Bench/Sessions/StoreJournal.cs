using Acquire.Domain.Sessions;
using Acquire.Storage;

namespace Acquire.Bench.Sessions;

/// <summary>Keeps the lines of one session in the store.</summary>
public sealed class StoreJournal(AcquireStore store, Guid sessionId) : ISessionJournal
{
    /// <inheritdoc/>
    public Task AppendAsync(ReceivedLine line, CancellationToken cancellationToken) =>
        store.AppendLineAsync(sessionId, line, cancellationToken);
}
