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
