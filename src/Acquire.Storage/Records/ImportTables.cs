namespace Acquire.Storage.Records;

/// <summary>What the table <c>strip_import</c> keeps of an imported record: the ids that lie in another store.</summary>
internal static class ImportTables
{
    /// <summary>Which ids of a record name something that this store does not have.</summary>
    public static ForeignIds Foreign(Db db, StripRecord strip) => new(
        Lacking(db, "bench_session", strip.SessionId),
        Lacking(db, "lot_reference", strip.ReferenceId),
        Lacking(db, "calibration_check", strip.CheckId),
        Lacking(db, "repeatability_test", strip.Repeatability?.TestId),
        Lacking(db, "strip", strip.Tags.Confirms),
        Lacking(db, "strip", strip.Tags.Reread?.Of),
        Lacking(db, "strip", strip.Tags.PairedWith));

    /// <summary>The foreign ids of some revisions; those that were not imported have none.</summary>
    public static Dictionary<long, ForeignIds> Load(Db db, IReadOnlyCollection<long> revisions) => db.Query<ForeignRow>(
        "SELECT * FROM strip_import WHERE revision_id IN @revisions",
        new { revisions })
        .ToDictionary(r => r.RevisionId, r => new ForeignIds(
            Sql.OptionalId(r.SessionId), Sql.OptionalId(r.ReferenceId), Sql.OptionalId(r.CheckId), Sql.OptionalId(r.RepeatabilityId),
            Sql.OptionalId(r.Confirms), Sql.OptionalId(r.RereadOf), Sql.OptionalId(r.PairedWith)));

    private static Guid? Lacking(Db db, string table, Guid? id) =>
        id is { } given && !db.Exists($"SELECT 1 FROM {table} WHERE id = @id", new { id = Sql.Id(given) }) ? id : null;

    private sealed record ForeignRow
    {
        public long RevisionId { get; init; }

        public string? SessionId { get; init; }

        public string? ReferenceId { get; init; }

        public string? CheckId { get; init; }

        public string? RepeatabilityId { get; init; }

        public string? Confirms { get; init; }

        public string? RereadOf { get; init; }

        public string? PairedWith { get; init; }
    }
}
