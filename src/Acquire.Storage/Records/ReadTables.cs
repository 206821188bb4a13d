namespace Acquire.Storage.Records;

/// <summary>
/// The tables that hold the reads of a record. Every kind of record has the same three: <c>…_patch</c>, <c>…_read</c> and <c>…_line</c>.
/// </summary>
internal sealed record ReadTables(string Patch, string Read, string Line)
{
    public static ReadTables Strip { get; } = new("strip_patch", "strip_read", "strip_line");

    public static ReadTables LotReference { get; } = new("lot_reference_patch", "lot_reference_read", "lot_reference_line");

    public static ReadTables CalibrationCheck { get; } = new("calibration_check_patch", "calibration_check_read", "calibration_check_line");

    public static ReadTables RepeatabilityTest { get; } =
        new("repeatability_test_patch", "repeatability_test_read", "repeatability_test_line");

    public static ReadTables ReferenceRecheck { get; } = new("reference_recheck_patch", "reference_recheck_read", "reference_recheck_line");
}

/// <summary>Writes every read of every patch, with its raw lines and where in the session's journal they stand.</summary>
internal static class ReadWriter
{
    public static void Add(Db db, ReadTables tables, long revisionId, ImmutableArray<PatchReads> patches, Guid? sessionId)
    {
        // A line stands in the record and in the journal, so that each can be read and proved without the other; the place links them.
        var journal = new JournalPlaces(db, sessionId);
        for (var i = 0; i < patches.Length; i++)
        {
            AddPatch(db, tables, revisionId, i + 1, patches[i]);
            var reads = patches[i].Reads.IsDefault ? [] : patches[i].Reads;
            for (var n = 0; n < reads.Length; n++)
            {
                AddRead(db, tables, revisionId, i + 1, n + 1, reads[n]);
                AddLines(db, tables, revisionId, i + 1, n + 1, reads[n].Reading.Lines, journal);
            }
        }
    }

    private static void AddPatch(Db db, ReadTables tables, long revisionId, int position, PatchReads reads) => db.Execute(
        $"""
        INSERT INTO {tables.Patch} (revision_id, position, key, name, left_out_reason, left_out_at)
        VALUES (@revisionId, @position, @Key, @Name, @Reason, @At)
        """,
        new
        {
            revisionId,
            position,
            reads.Patch.Key,
            reads.Patch.Name,
            reads.LeftOut?.Reason,
            At = reads.LeftOut is { } leftOut ? Sql.Time(leftOut.At) : null,
        });

    private static void AddRead(Db db, ReadTables tables, long revisionId, int patch, int number, PatchRead read) => db.Execute(
        $"""
        INSERT INTO {tables.Read}
            (revision_id, patch_position, read_number, red, green, blue, visual, read_at, excluded_reason, excluded_at, note)
        VALUES (@revisionId, @patch, @number, @Red, @Green, @Blue, @Visual, @At, @Reason, @ExcludedAt, @Note)
        """,
        new
        {
            revisionId,
            patch,
            number,
            Red = Sql.Density(read.Reading.Densities.Red),
            Green = Sql.Density(read.Reading.Densities.Green),
            Blue = Sql.Density(read.Reading.Densities.Blue),
            Visual = Sql.Density(read.Reading.Densities.Visual),
            At = Sql.Time(read.Reading.At),
            read.Exclusion?.Reason,
            ExcludedAt = read.Exclusion is { } exclusion ? Sql.Time(exclusion.At) : null,
            read.Note,
        });

    private static void AddLines(
        Db db, ReadTables tables, long revisionId, int patch, int number, ImmutableArray<RawLine> lines, JournalPlaces journal)
    {
        if (lines.IsDefaultOrEmpty)
        {
            return;
        }

        _ = db.Execute(
            $"""
            INSERT INTO {tables.Line} (revision_id, patch_position, read_number, position, received_at, bytes, session_id, session_sequence)
            VALUES (@revisionId, @patch, @number, @Position, @At, @Bytes, @Session, @Sequence)
            """,
            lines.Select((line, i) => (Line: line, Position: i + 1, Place: journal.Take(line))).Select(l => new
            {
                revisionId,
                patch,
                number,
                l.Position,
                At = Sql.Time(l.Line.ReceivedAt),
                Bytes = LineTable.Bytes(l.Line),
                Session = l.Place is null ? null : journal.SessionId,
                Sequence = l.Place,
            }));
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
    public static ILookup<long, PatchReads> Load(Db db, ReadTables tables, IReadOnlyCollection<long> revisions)
    {
        var lines = db.Query<ReadLineRow>(
            $"""
            SELECT revision_id, patch_position, read_number, received_at, bytes FROM {tables.Line} WHERE revision_id IN @revisions
            ORDER BY revision_id, patch_position, read_number, position
            """,
            new { revisions }).ToLookup(l => (l.RevisionId, l.PatchPosition, l.ReadNumber), l => l.ToLine());
        var reads = db.Query<ReadRow>(
            $"SELECT * FROM {tables.Read} WHERE revision_id IN @revisions ORDER BY revision_id, patch_position, read_number",
            new { revisions })
            .ToLookup(r => (r.RevisionId, r.PatchPosition), r => r.ToRead([.. lines[(r.RevisionId, r.PatchPosition, r.ReadNumber)]]));
        return db.Query<PatchRow>(
            $"SELECT * FROM {tables.Patch} WHERE revision_id IN @revisions ORDER BY revision_id, position", new { revisions })
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
