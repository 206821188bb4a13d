using Acquire.Domain.Sessions;
using Acquire.Storage.Rows;
using Acquire.Storage.Sessions;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>Writes down that a session begins; before anything is read.</summary>
    /// <exception cref="StoreException">It has begun already, or there is no such lot.</exception>
    public Task BeginSessionAsync(BenchSession session, CancellationToken cancellationToken) =>
        WriteAsync(db => SessionTables.Begin(db, session), cancellationToken);

    /// <summary>
    /// Appends a line to a session's journal. When the task has ended, the line is safe. The same number with the same bytes again changes
    /// nothing, so a caller that does not know whether its attempt was committed repeats it.
    /// </summary>
    /// <exception cref="StoreException">
    /// No such session, other bytes under that number, or the session has ended (<see cref="StoreFault.Conflict"/>).
    /// </exception>
    public Task AppendLineAsync(Guid sessionId, ReceivedLine line, CancellationToken cancellationToken) =>
        WriteAsync(db => LineTable.Append(db, sessionId, line), cancellationToken);

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

    /// <summary>All sessions, in the order in which they began.</summary>
    public Task<IReadOnlyList<StoredSession>> ListSessionsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StoredSession>>(db => SessionTables.List(db), cancellationToken);

    /// <summary>
    /// The sessions without an end. Which of them still run and which were broken off with their program, the store cannot know.
    /// </summary>
    public Task<IReadOnlyList<StoredSession>> ListOpenSessionsAsync(CancellationToken cancellationToken) =>
        ReadAsync<IReadOnlyList<StoredSession>>(db => SessionTables.List(db, "WHERE e.session_id IS NULL"), cancellationToken);
}
