using Acquire.Storage.Strips;

namespace Acquire.Storage.Import.Strips;

/// <summary>The table <c>strip_import</c>.</summary>
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

    public static void Add(Db db, long revisionId, ImportSource source, IncomingStrip strip, ForeignIds foreign) => db.Execute(
        """
        INSERT INTO strip_import (
            revision_id, file, file_hash, file_line, name, session_id, reference_id, check_id, repeatability_id, confirms, reread_of, paired_with)
        VALUES (@revisionId, @File, @Hash, @Line, @Name, @Session, @Reference, @Check, @Repeatability, @Confirms, @RereadOf, @PairedWith)
        """,
        new
        {
            revisionId,
            source.File,
            source.Hash,
            strip.Spot.Line,
            strip.Name,
            Session = Sql.Id(foreign.Session),
            Reference = Sql.Id(foreign.Reference),
            Check = Sql.Id(foreign.Check),
            Repeatability = Sql.Id(foreign.Repeatability),
            Confirms = Sql.Id(foreign.Confirms),
            RereadOf = Sql.Id(foreign.RereadOf),
            PairedWith = Sql.Id(foreign.PairedWith),
        });

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
