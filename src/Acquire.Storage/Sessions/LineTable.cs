using System.Runtime.InteropServices;

namespace Acquire.Storage.Sessions;

/// <summary>The journal: every line of a bench session in the table <c>session_line</c>.</summary>
internal static class LineTable
{
    /// <summary>
    /// Appends a line. The same number with the same bytes again changes nothing, so a caller that does not know whether its first
    /// attempt was committed repeats it.
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
                StoreFault.Conflict, $"The bench session {sessionId} has another line number {line.Sequence} already: '{before.ToLine().Line.Text}'.");
        }

        if (db.Exists("SELECT 1 FROM session_end WHERE session_id = @id", new { id }))
        {
            throw new StoreException(StoreFault.Conflict, $"The bench session {sessionId} has ended; line {line.Sequence} came too late for it.");
        }

        _ = db.Execute(
            "INSERT INTO session_line (session_id, sequence, received_at, bytes, meaning) VALUES (@id, @Sequence, @At, @bytes, @Meaning)",
            new { id, line.Sequence, At = Sql.Time(line.Line.ReceivedAt), bytes, Meaning = Words<LineMeaning>.Of(line.Meaning) });
    }

    public static List<ReceivedLine> Of(Db db, Guid sessionId)
    {
        Requirements.Session(db, sessionId);
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
