using System.Runtime.InteropServices;

namespace Acquire.Storage.Records;

/// <summary>The journal: what was received and decided in a session, in the table <c>session_entry</c>.</summary>
internal static class EntryTable
{
    private const string Columns = "SELECT sequence, at, event, bytes, decision FROM session_entry WHERE session_id = @id";

    /// <summary>
    /// Appends entries and the lines that they ended. What is there already, alike, changes nothing, so a caller that does not know whether
    /// its first attempt was committed repeats it.
    /// </summary>
    public static void Append(Db db, Guid sessionId, IEnumerable<JournalEntry> entries, IEnumerable<ReceivedLine> lines)
    {
        Requirements.Session(db, sessionId);
        var id = Sql.Id(sessionId);
        foreach (var entry in entries)
        {
            Append(db, sessionId, id, entry);
        }

        foreach (var line in lines)
        {
            LineTable.Append(db, sessionId, line);
        }
    }

    public static List<JournalEntry> Of(Db db, Guid sessionId)
    {
        Requirements.Session(db, sessionId);
        _ = db.Whole(SealedRecord.Journal, [sessionId], Sql.Id);
        return [.. db.Query<EntryRow>($"{Columns} ORDER BY sequence", new { id = Sql.Id(sessionId) }).Select(r => r.ToEntry())];
    }

    private static void Append(Db db, Guid sessionId, string id, JournalEntry entry)
    {
        var row = EntryRow.Of(entry);
        var newest = db.Scalar<int?>("SELECT max(sequence) FROM session_entry WHERE session_id = @id", new { id }) ?? 0;
        // Numbers without gaps are what makes a repeated attempt safe and a lost entry seen.
        if (entry.Sequence <= newest)
        {
            if (db.First<EntryRow>($"{Columns} AND sequence = @Sequence", new { id, entry.Sequence })?.IsLike(row) != true)
            {
                throw new StoreException(
                    StoreFault.Conflict,
                    $"The bench session {sessionId} has another entry number {entry.Sequence} already; "
                    + "is it being read by a second program?");
            }

            return;
        }

        if (entry.Sequence != newest + 1)
        {
            throw new StoreException(
                StoreFault.Conflict,
                $"The bench session {sessionId} has {newest} entries, so the next is {newest + 1}, not {entry.Sequence}.");
        }

        if (db.Exists("SELECT 1 FROM session_end WHERE session_id = @id", new { id }))
        {
            throw new StoreException(
                StoreFault.Conflict, $"The bench session {sessionId} has ended; entry {entry.Sequence} came too late for it.");
        }

        _ = db.Insert("session_entry", new { SessionId = id }, row);
    }

    private sealed record EntryRow
    {
        public int Sequence { get; init; }

        public string At { get; init; } = "";

        public string Event { get; init; } = "";

        public byte[]? Bytes { get; init; }

        public string? Decision { get; init; }

        public static EntryRow Of(JournalEntry entry) => new()
        {
            Sequence = entry.Sequence,
            At = Sql.Time(entry.At),
            Event = Words<JournalEvent>.Of(entry.Event),
            Bytes = entry.Event == JournalEvent.Received ? ImmutableCollectionsMarshal.AsArray(entry.Bytes) ?? [] : null,
            Decision = entry.Decision,
        };

        public JournalEntry ToEntry() => new(Sequence, Sql.Time(At), Words<JournalEvent>.Parse(Event))
        {
            Bytes = ImmutableArray.Create(Bytes ?? []),
            Decision = Decision,
        };

        public bool IsLike(EntryRow other) =>
            this with { Bytes = null } == other with { Bytes = null } && Bytes.AsSpan().SequenceEqual(other.Bytes);
    }
}

/// <summary>The journal: every line of a bench session in the table <c>session_line</c>.</summary>
internal static class LineTable
{
    /// <summary>
    /// Appends a line. The same number with the same bytes again changes nothing, so a caller that does not know whether its first attempt
    /// was committed repeats it.
    /// </summary>
    public static void Append(Db db, Guid sessionId, ReceivedLine line)
    {
        Requirements.Session(db, sessionId);
        var id = Sql.Id(sessionId);
        var bytes = Bytes(line.Line);
        var before = db.First<LineRow>(
            "SELECT sequence, received_at, bytes, meaning FROM session_line WHERE session_id = @id AND sequence = @Sequence",
            new { id, line.Sequence });
        if (before is not null)
        {
            if (before.Bytes.AsSpan().SequenceEqual(bytes))
            {
                return;
            }

            throw new StoreException(
                StoreFault.Conflict,
                $"The bench session {sessionId} has another line number {line.Sequence} already: '{before.ToLine().Line.Text}'.");
        }

        if (db.Exists("SELECT 1 FROM session_end WHERE session_id = @id", new { id }))
        {
            throw new StoreException(
                StoreFault.Conflict, $"The bench session {sessionId} has ended; line {line.Sequence} came too late for it.");
        }

        _ = db.Insert("session_line", new
        {
            SessionId = id,
            line.Sequence,
            ReceivedAt = Sql.Time(line.Line.ReceivedAt),
            bytes,
            Meaning = Words<LineMeaning>.Of(line.Meaning),
        });
    }

    public static List<ReceivedLine> Of(Db db, Guid sessionId)
    {
        Requirements.Session(db, sessionId);
        _ = db.Whole(SealedRecord.Lines, [sessionId], Sql.Id);
        return [.. db.Query<LineRow>(
            "SELECT sequence, received_at, bytes, meaning FROM session_line WHERE session_id = @id ORDER BY sequence",
            new { id = Sql.Id(sessionId) }).Select(r => r.ToLine())];
    }

    /// <summary>The bytes of a line for a parameter.</summary>
    public static byte[] Bytes(RawLine line) => ImmutableCollectionsMarshal.AsArray(line.Bytes) ?? [];

    private sealed record LineRow
    {
        public int Sequence { get; init; }

        public string ReceivedAt { get; init; } = "";

        public byte[] Bytes { get; init; } = [];

        public string Meaning { get; init; } = "";

        public ReceivedLine ToLine() => new(
            Sequence, new RawLine(ImmutableArray.Create(Bytes), Sql.Time(ReceivedAt)), Words<LineMeaning>.Parse(Meaning));
    }
}
