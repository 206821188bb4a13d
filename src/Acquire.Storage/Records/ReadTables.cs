namespace Acquire.Storage.Records;

/// <summary>
/// Writes every read of every patch, with its raw lines and where in the session's journal they stand, into the tables
/// <c>record_patch</c>, <c>record_read</c> and <c>record_line</c>.
/// </summary>
internal static class ReadWriter
{
    public static void Add(Db db, ReadsOf of, long revisionId, ImmutableArray<PatchReads> patches, Guid? sessionId)
    {
        var record = Words<ReadsOf>.Of(of);
        db.InsertAll("record_patch", patches.Select((p, i) => new
        {
            record,
            revisionId,
            Position = i + 1,
            p.Patch.Key,
            p.Patch.Name,
            LeftOutReason = p.LeftOut?.Reason,
            LeftOutAt = Sql.Time(p.LeftOut?.At),
        }));
        var reads = patches.SelectMany(
            (p, i) => (p.Reads.IsDefault ? [] : p.Reads).Select((r, n) => (Patch: i + 1, Number: n + 1, Read: r)))
            .ToList();
        db.InsertAll("record_read", reads.Select(r => new
        {
            record,
            revisionId,
            PatchPosition = r.Patch,
            ReadNumber = r.Number,
            Red = Sql.Density(r.Read.Reading.Densities.Red),
            Green = Sql.Density(r.Read.Reading.Densities.Green),
            Blue = Sql.Density(r.Read.Reading.Densities.Blue),
            Visual = Sql.Density(r.Read.Reading.Densities.Visual),
            ReadAt = Sql.Time(r.Read.Reading.At),
            ExcludedReason = r.Read.Exclusion?.Reason,
            ExcludedAt = Sql.Time(r.Read.Exclusion?.At),
            r.Read.Note,
        }));

        // A line stands in the record and in the journal, so that each can be read and proved without the other; the place links them.
        var journal = new JournalPlaces(db, sessionId);
        db.InsertAll("record_line", reads.SelectMany(r => (r.Read.Reading.Lines.IsDefault ? [] : r.Read.Reading.Lines)
            .Select((line, i) => (Line: line, Place: journal.Take(line), Position: i + 1))
            .Select(l => new
            {
                record,
                revisionId,
                PatchPosition = r.Patch,
                ReadNumber = r.Number,
                l.Position,
                ReceivedAt = Sql.Time(l.Line.ReceivedAt),
                Bytes = LineTable.Bytes(l.Line),
                SessionId = l.Place is null ? null : journal.SessionId,
                SessionSequence = l.Place,
            })));
    }
}

/// <summary>
/// Finds the line of a session's journal that a raw line of a record is: the same bytes, received at the same time. Two lines that are
/// alike in both are told apart by their order.
/// </summary>
internal sealed class JournalPlaces
{
    private readonly Dictionary<(string Bytes, DateTimeOffset At), Queue<int>> _places = [];

    public JournalPlaces(Db db, Guid? sessionId)
    {
        SessionId = Sql.Id(sessionId);
        foreach (var line in sessionId is { } id ? LineTable.Of(db, id) : [])
        {
            var key = Key(line.Line);
            if (!_places.TryGetValue(key, out var queue))
            {
                _places[key] = queue = new Queue<int>();
            }

            queue.Enqueue(line.Sequence);
        }
    }

    public string? SessionId { get; }

    /// <summary>The line's number in the session; null when the session has no such line (left).</summary>
    public int? Take(RawLine line) => _places.TryGetValue(Key(line), out var queue) && queue.TryDequeue(out var sequence) ? sequence : null;

    private static (string Bytes, DateTimeOffset At) Key(RawLine line) => (Convert.ToHexString(LineTable.Bytes(line)), line.ReceivedAt);
}

/// <summary>Loads the reads of some revisions, with three queries however many they are.</summary>
internal static class ReadLoader
{
    /// <summary>The patches of each revision, in order.</summary>
    public static ILookup<long, PatchReads> Load(Db db, ReadsOf of, IReadOnlyCollection<long> revisions)
    {
        var which = new { record = Words<ReadsOf>.Of(of), revisions };
        var lines = db.Query<ReadLineRow>(
            """
            SELECT revision_id, patch_position, read_number, received_at, bytes FROM record_line
            WHERE record = @record AND revision_id IN @revisions ORDER BY revision_id, patch_position, read_number, position
            """,
            which).ToLookup(l => (l.RevisionId, l.PatchPosition, l.ReadNumber), l => l.ToLine());
        var reads = db.Query<ReadRow>(
            """
            SELECT * FROM record_read
            WHERE record = @record AND revision_id IN @revisions ORDER BY revision_id, patch_position, read_number
            """,
            which)
            .ToLookup(r => (r.RevisionId, r.PatchPosition), r => r.ToRead([.. lines[(r.RevisionId, r.PatchPosition, r.ReadNumber)]]));
        return db.Query<PatchRow>(
            "SELECT * FROM record_patch WHERE record = @record AND revision_id IN @revisions ORDER BY revision_id, position", which)
            .ToLookup(p => p.RevisionId, p => p.ToReads([.. reads[(p.RevisionId, p.Position)]]));
    }
}

internal sealed record PatchRow
{
    public long RevisionId { get; init; }

    public int Position { get; init; }

    public string Key { get; init; } = "";

    public string Name { get; init; } = "";

    public string? LeftOutReason { get; init; }

    public string? LeftOutAt { get; init; }

    public PatchReads ToReads(ImmutableArray<PatchRead> reads) => new(
        new Patch(Key, Name), reads, LeftOutReason is null ? null : new Exclusion(LeftOutReason, Sql.Time(LeftOutAt!)));
}

internal sealed record ReadRow
{
    public long RevisionId { get; init; }

    public int PatchPosition { get; init; }

    public int ReadNumber { get; init; }

    public string? Red { get; init; }

    public string? Green { get; init; }

    public string? Blue { get; init; }

    public string? Visual { get; init; }

    public string ReadAt { get; init; } = "";

    public string? ExcludedReason { get; init; }

    public string? ExcludedAt { get; init; }

    public string? Note { get; init; }

    public PatchRead ToRead(ImmutableArray<RawLine> lines) => new(
        new Reading(
            new ChannelDensities(Sql.Density(Red), Sql.Density(Green), Sql.Density(Blue), Sql.Density(Visual)), Sql.Time(ReadAt), lines),
        ExcludedReason is null ? null : new Exclusion(ExcludedReason, Sql.Time(ExcludedAt!))) { Note = Note };
}

internal sealed record ReadLineRow
{
    public long RevisionId { get; init; }

    public int PatchPosition { get; init; }

    public int ReadNumber { get; init; }

    public string ReceivedAt { get; init; } = "";

    public byte[] Bytes { get; init; } = [];

    public RawLine ToLine() => new(ImmutableArray.Create(Bytes), Sql.Time(ReceivedAt));
}
