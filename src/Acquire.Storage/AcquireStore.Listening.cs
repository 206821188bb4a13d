using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Writes down that a service begins to listen to an instrument.</summary>
    public Task BeginListeningAsync(Listening listening, CancellationToken cancellationToken) =>
        WriteAsync(db => ListeningTables.Begin(db, listening), cancellationToken);

    /// <summary>Appends what happened on the link, all or nothing. When the task has ended, it is safe.</summary>
    /// <exception cref="StoreException">No such listening, or a number that is taken.</exception>
    public Task AppendListeningAsync(Guid listeningId, IReadOnlyList<JournalEntry> entries, CancellationToken cancellationToken) =>
        WriteAsync(db => ListeningTables.Append(db, listeningId, entries), cancellationToken);

    /// <summary>
    /// What was listened to since a moment, each with its entries from the last opening before that moment on, so that framing begins where
    /// it began; the oldest first.
    /// </summary>
    public Task<IReadOnlyList<(Listening Listening, IReadOnlyList<JournalEntry> Entries)>> ListenedSinceAsync(
        DateTimeOffset since, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<(Listening, IReadOnlyList<JournalEntry>)>>(db => ListeningTables.Since(db, since), cancellationToken);

    /// <summary>The loose readings that were taken into sessions since a moment, and into which.</summary>
    public Task<IReadOnlyDictionary<LooseId, Guid>> LooseTakenAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyDictionary<LooseId, Guid>>(ListeningTables.Taken, cancellationToken);

    /// <summary>The sessions that a service leads and that have no end, and how long each may take a step back.</summary>
    public Task<IReadOnlyList<(Guid Session, TimeSpan? KeepAfter)>> ServiceSessionsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<(Guid, TimeSpan?)>>(ListeningTables.Led, cancellationToken);
}
