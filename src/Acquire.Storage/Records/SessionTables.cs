namespace Acquire.Storage.Records;

/// <summary>Bench sessions and their ends in the tables <c>bench_session</c> and <c>session_end</c>.</summary>
internal static class SessionTables
{
    /// <summary>Begins a session with all that it needs to be rebuilt and finished.</summary>
    public static void Begin(Db db, BenchSession session, SessionPlan plan)
    {
        Begin(db, session);
        PlanTables.Add(db, session.Id, plan);
    }

    public static void Begin(Db db, BenchSession session)
    {
        if (db.Exists("SELECT 1 FROM bench_session WHERE id = @Id", new { Id = Sql.Id(session.Id) }))
        {
            throw new StoreException(StoreFault.Duplicate, $"The bench session {session.Id} has begun already.");
        }

        if (session.LotCode is { } lot)
        {
            Requirements.Lot(db, lot);
        }

        if (session.PlaqueName is { } plaque)
        {
            Requirements.Plaque(db, plaque);
        }

        _ = db.Insert(
            "bench_session",
            new
            {
                Id = Sql.Id(session.Id),
                Kind = Words<SessionKind>.Of(session.Kind),
                session.LotCode,
                session.PlaqueName,
                session.ReadsPerPatch,
            },
            ProvenanceRow.Of(session.Provenance));
    }

    /// <summary>Ends a session. The same end a second time changes nothing; another end is refused.</summary>
    public static void End(Db db, Guid id, SessionEnd end)
    {
        Requirements.Session(db, id);
        if (EndOf(db, id) is { } before)
        {
            if (before == end)
            {
                return;
            }

            throw new StoreException(
                StoreFault.Conflict,
                $"The bench session {id} has ended already ({Words<SessionOutcome>.Of(before.Outcome)}: {before.Reason}); "
                + "it ends once only.");
        }

        _ = db.Insert(
            "session_end",
            new { SessionId = Sql.Id(id), Outcome = Words<SessionOutcome>.Of(end.Outcome), EndedAt = Sql.Time(end.At), end.Reason });
    }

    public static SessionEnd? EndOf(Db db, Guid id) => List(db, "WHERE s.id = @Id", new { Id = Sql.Id(id) }).FirstOrDefault()?.End;

    /// <summary>Sessions in the order in which they began.</summary>
    public static List<StoredSession> List(Db db, string which = "", object? values = null) =>
        [.. db.Sound(SealedRecord.Session, db.Query<SessionRow>(
            $"""
            SELECT s.*, e.outcome, e.ended_at, e.reason, (SELECT count(*) FROM session_line AS l WHERE l.session_id = s.id) AS lines,
                (SELECT p.purpose FROM session_plan AS p WHERE p.session_id = s.id) AS purpose
            FROM bench_session AS s LEFT JOIN session_end AS e ON e.session_id = s.id
            {which} ORDER BY s.read_at, s.id
            """,
            values), r => r.Id).Select(r => r.ToSession())];

    private sealed record SessionRow : ProvenanceRow
    {
        public string Id { get; init; } = "";

        public string Kind { get; init; } = "";

        public string? LotCode { get; init; }

        public string? PlaqueName { get; init; }

        public int ReadsPerPatch { get; init; }

        public string? Outcome { get; init; }

        public string? EndedAt { get; init; }

        public string? Reason { get; init; }

        public int Lines { get; init; }

        public string? Purpose { get; init; }

        public StoredSession ToSession() => new(
            new BenchSession(
                Sql.Id(Id), Words<SessionKind>.Parse(Kind), LotCode, ReadsPerPatch, ToProvenance()) { PlaqueName = PlaqueName },
            Outcome is null ? null : new SessionEnd(Words<SessionOutcome>.Parse(Outcome), Sql.Time(EndedAt!), Reason!),
            Lines)
        {
            Purpose = Purpose is null ? null : Words<SessionPurpose>.Parse(Purpose),
        };
    }
}

/// <summary>A bench session as it stands in the store.</summary>
/// <param name="Session">The session as it began.</param>
/// <param name="End">How it ended; null while it has no end: it runs still, or the program ended before it did.</param>
/// <param name="Lines">How many lines it has.</param>
public sealed record StoredSession(BenchSession Session, SessionEnd? End, int Lines)
{
    /// <summary>What it is to make; null for one begun by a version that did not keep it, which cannot be gone on with.</summary>
    public SessionPurpose? Purpose { get; init; }

    /// <summary>Whether it has no end and can be gone on with, unless a program reads it still.</summary>
    public bool IsUnfinished => End is null && Purpose is not null;
}
