namespace Acquire.Storage.Reads;

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
