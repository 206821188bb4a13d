using Acquire.Storage.Records;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Writes down that a session begins, with all that it needs to be rebuilt and finished; before anything is read.</summary>
    /// <exception cref="StoreException">It has begun already, or something that it refers to is not there.</exception>
    public Task BeginSessionAsync(BenchSession session, SessionPlan plan, CancellationToken cancellationToken) => WriteAsync(
        db => SessionTables.Begin(db, session, plan), cancellationToken);

    /// <summary>
    /// Appends what happened at the bench to a session's journal, and the lines that it ended, all or nothing. When the task has ended,
    /// they are safe. The same again changes nothing.
    /// </summary>
    /// <exception cref="StoreException">
    /// No such session, another entry under that number, a gap in the numbers, or the session has ended
    /// (<see cref="StoreFault.Conflict"/>).
    /// </exception>
    public Task AppendAsync(
        Guid sessionId, IReadOnlyList<JournalEntry> entries, IReadOnlyList<ReceivedLine> lines, CancellationToken cancellationToken) =>
        WriteAsync(db => EntryTable.Append(db, sessionId, entries, lines), cancellationToken);

    /// <summary>The journal of a session in its order.</summary>
    /// <exception cref="StoreException">No such session.</exception>
    public Task<IReadOnlyList<JournalEntry>> SessionEntriesAsync(Guid sessionId, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<JournalEntry>>(db => EntryTable.Of(db, sessionId), cancellationToken);

    /// <summary>The plan of a session; null when there is no such session, or it was begun by a version that kept none.</summary>
    public Task<SessionPlan?> FindPlanAsync(Guid sessionId, CancellationToken cancellationToken) =>
        ReadAsync(db => PlanTables.Find(db, sessionId), cancellationToken);

    /// <summary>Makes this program the one that reads a session, until the lock is disposed or the program ends.</summary>
    /// <exception cref="StoreException">
    /// Another program reads it (<see cref="StoreFault.Conflict"/>), or the folder cannot be written.
    /// </exception>
    public SessionLock LockSession(Guid sessionId, string program) =>
        SessionLock.Take(FilePath, sessionId, new SessionHolder(program, Environment.ProcessId, _time.GetUtcNow()));

    /// <summary>Which program reads a session now; null when none does.</summary>
    public SessionHolder? ReaderOf(Guid sessionId) => SessionLock.HolderOf(FilePath, sessionId);

    /// <summary>Writes down how a session ended. The same end again changes nothing.</summary>
    /// <exception cref="StoreException">No such session, or it has ended otherwise (<see cref="StoreFault.Conflict"/>).</exception>
    public Task EndSessionAsync(Guid sessionId, SessionEnd end, CancellationToken cancellationToken) =>
        WriteAsync(db => SessionTables.End(db, sessionId, end), cancellationToken);

    /// <summary>The lines of a session in the order of their numbers.</summary>
    /// <exception cref="StoreException">No such session.</exception>
    public Task<IReadOnlyList<ReceivedLine>> SessionLinesAsync(Guid sessionId, CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<ReceivedLine>>(db => LineTable.Of(db, sessionId), cancellationToken);

    /// <summary>One session; null when there is none.</summary>
    public Task<StoredSession?> FindSessionAsync(Guid sessionId, CancellationToken cancellationToken) =>
        ReadAsync(db => SessionTables.List(db, "WHERE s.id = @Id", new { Id = Sql.Id(sessionId) }).FirstOrDefault(), cancellationToken);

    /// <summary>The strip that a session made; null when it made none.</summary>
    public Task<Guid?> StripOfSessionAsync(Guid sessionId, CancellationToken cancellationToken) => ReadAsync(
        db => db.First<string>(
            "SELECT strip_id FROM strip_revision WHERE session_id = @id ORDER BY revision LIMIT 1",
            new { id = Sql.Id(sessionId) }) is { } strip ? Sql.Id(strip) : (Guid?)null,
        cancellationToken);

    /// <summary>All sessions, in the order in which they began.</summary>
    public Task<IReadOnlyList<StoredSession>> ListSessionsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StoredSession>>(db => SessionTables.List(db), cancellationToken);

    /// <summary>
    /// The sessions without an end. Which of them still run and which were broken off with their program, the store cannot know.
    /// </summary>
    public Task<IReadOnlyList<StoredSession>> ListOpenSessionsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StoredSession>>(db => SessionTables.List(db, "WHERE e.session_id IS NULL"), cancellationToken);
}
