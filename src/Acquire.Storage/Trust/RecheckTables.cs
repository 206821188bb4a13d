using Acquire.Storage.Reads;

namespace Acquire.Storage.Trust;

/// <summary>Reference strips that were read again, in the tables <c>reference_recheck…</c>.</summary>
internal static class RecheckTables
{
    public static void Add(Db db, ReferenceRecheck recheck, DateTimeOffset now)
    {
        TrustRow.Require(db, "reference_recheck", "The recheck", recheck.Id, recheck.SessionId);
        Requirements.Lot(db, recheck.LotCode);
        var (at, by, instrument) = recheck.Provenance;
        var revisionId = db.Scalar<long>(
            """
            INSERT INTO reference_recheck (id, lot_code, session_id, read_at, read_by, profile, profile_hash, port, added_at)
            VALUES (@Id, @LotCode, @Session, @At, @By, @Profile, @ProfileHash, @Port, @Now)
            RETURNING revision_id
            """,
            new
            {
                Id = Sql.Id(recheck.Id),
                recheck.LotCode,
                Session = Sql.Id(recheck.SessionId),
                At = Sql.Time(at),
                By = by,
                instrument?.Profile,
                instrument?.ProfileHash,
                instrument?.Port,
                Now = Sql.Time(now),
            });
        ReadWriter.Add(db, ReadTables.ReferenceRecheck, revisionId, recheck.Patches, recheck.SessionId);
    }

    public static List<ReferenceRecheck> List(Db db, string lotCode)
    {
        var rows = db.Query<RecheckRow>("SELECT * FROM reference_recheck WHERE lot_code = @lotCode ORDER BY read_at, id", new { lotCode });
        var patches = ReadLoader.Load(db, ReadTables.ReferenceRecheck, [.. rows.Select(r => r.RevisionId)]);
        return [.. rows.Select(r => new ReferenceRecheck(
            Sql.Id(r.Id), r.LotCode, [.. patches[r.RevisionId]], r.ToProvenance(), Sql.OptionalId(r.SessionId)))];
    }

    private sealed record RecheckRow : TrustRow
    {
        public string LotCode { get; init; } = "";
    }
}
