using System.Runtime.InteropServices;

namespace Acquire.Storage.Records;

/// <summary>
/// What a service hears and leads, in the tables <c>listening</c>, <c>listening_entry</c>, <c>loose_taken</c>, <c>service_session</c>.
/// </summary>
internal static class ListeningTables
{
    public static void Begin(Db db, Listening listening)
    {
        // A caller that does not know whether its first attempt was committed repeats it; so below.
        if (db.Exists("SELECT 1 FROM listening WHERE id = @Id", new { Id = Sql.Id(listening.Id) }))
        {
            return;
        }

        PlanTables.AddProfile(db, listening.Profile);
        _ = db.Insert(
            "listening",
            new
            {
                Id = Sql.Id(listening.Id),
                listening.Instrument,
                listening.Port,
                ProfileHash = listening.Profile.Hash,
                BeganAt = Sql.Time(listening.BeganAt),
            });
    }

    public static void Append(Db db, Guid listeningId, IEnumerable<JournalEntry> entries)
    {
        var newest =
            db.Scalar<int?>("SELECT max(sequence) FROM listening_entry WHERE listening_id = @id", new { id = Sql.Id(listeningId) }) ?? 0;
        foreach (var entry in entries.Where(e => e.Sequence > newest))
        {
            _ = db.Insert(
                "listening_entry",
                new
                {
                    ListeningId = Sql.Id(listeningId),
                    entry.Sequence,
                    At = Sql.Time(entry.At),
                    Event = Words<JournalEvent>.Of(entry.Event),
                    Bytes = entry.Event == JournalEvent.Received ? ImmutableCollectionsMarshal.AsArray(entry.Bytes) ?? [] : null,
                });
        }
    }

    public static List<(Listening Listening, IReadOnlyList<JournalEntry> Entries)> Since(Db db, DateTimeOffset since) =>
    [
        .. db.Sound(
            SealedRecord.Listening,
            db.Query<ListeningRow>(
                """
                SELECT l.id, l.instrument, l.port, l.began_at, p.hash, p.name, p.text
                FROM listening AS l LEFT JOIN profile_text AS p ON p.hash = l.profile_hash
                WHERE coalesce((SELECT max(at) FROM listening_entry AS e WHERE e.listening_id = l.id), l.began_at) >= @since
                ORDER BY l.began_at, l.id
                """,
                new { since = Sql.Time(since) }),
            r => r.Id).Where(r => r.Text is not null).Select(r => (r.ToListening(), (IReadOnlyList<JournalEntry>)Entries(db, r.Id, since))),
    ];

    public static void Take(Db db, LooseId loose, Guid sessionId) => db.Insert(
        "loose_taken",
        new { ListeningId = Sql.Id(loose.Listening), loose.Sequence, loose.Part, SessionId = Sql.Id(sessionId) });

    public static Dictionary<LooseId, Guid> Taken(Db db) => db
        .Sound(
            SealedRecord.LooseTaken,
            db.Query<TakenRow>("SELECT listening_id, sequence, part, session_id FROM loose_taken"), r => r.ListeningId)
        .ToDictionary(r => new LooseId(Sql.Id(r.ListeningId), r.Sequence, r.Part), r => Sql.Id(r.SessionId));

    public static void Lead(Db db, Guid sessionId, TimeSpan? keepAfter)
    {
        if (!db.Exists("SELECT 1 FROM service_session WHERE session_id = @Id", new { Id = Sql.Id(sessionId) }))
        {
            _ = db.Insert("service_session", new { SessionId = Sql.Id(sessionId), KeepAfter = keepAfter?.TotalSeconds });
        }
    }

    public static List<(Guid Session, TimeSpan? KeepAfter)> Led(Db db) =>
    [
        .. db.Sound(
            SealedRecord.ServiceSession,
            db.Query<LedRow>(
                """
                SELECT l.session_id, l.keep_after FROM service_session AS l LEFT JOIN bench_session AS s ON s.id = l.session_id
                WHERE NOT EXISTS (SELECT 1 FROM session_end AS e WHERE e.session_id = l.session_id)
                ORDER BY s.read_at, s.id
                """),
            r => r.SessionId)
                .Select(r => (Sql.Id(r.SessionId), r.KeepAfter is { } seconds ? TimeSpan.FromSeconds(seconds) : (TimeSpan?)null)),
    ];

    private static List<JournalEntry> Entries(Db db, string id, DateTimeOffset since) =>
    [
        .. db.Query<EntryRow>(
            """
            SELECT sequence, at, event, bytes FROM listening_entry
            WHERE listening_id = @id AND sequence >= coalesce(
                (SELECT max(sequence) FROM listening_entry WHERE listening_id = @id AND event = 'opened' AND at <= @since), 1)
            ORDER BY sequence
            """,
            new { id, since = Sql.Time(since) })
                .Select(r => new JournalEntry(r.Sequence, Sql.Time(r.At), Words<JournalEvent>.Parse(r.Event))
            {
                Bytes = ImmutableArray.Create(r.Bytes ?? []),
            }),
    ];

    private sealed record ListeningRow
    {
        public string Id { get; init; } = "";

        public string Instrument { get; init; } = "";

        public string Port { get; init; } = "";

        public string BeganAt { get; init; } = "";

        public string Hash { get; init; } = "";

        public string Name { get; init; } = "";

        /// <summary>Null where the profile is not there under its hash any more: its own seal tells that.</summary>
        public string? Text { get; init; }

        public Listening ToListening() =>
            new(Sql.Id(Id), Instrument, Port, new ProfileText(Name, Hash, Text!), Sql.Time(BeganAt));
    }

    private sealed record EntryRow
    {
        public int Sequence { get; init; }

        public string At { get; init; } = "";

        public string Event { get; init; } = "";

        public byte[]? Bytes { get; init; }
    }

    private sealed record TakenRow
    {
        public string ListeningId { get; init; } = "";

        public int Sequence { get; init; }

        public int Part { get; init; }

        public string SessionId { get; init; } = "";
    }

    private sealed record LedRow
    {
        public string SessionId { get; init; } = "";

        public double? KeepAfter { get; init; }
    }
}
