using Acquire.Storage.Reads;

namespace Acquire.Storage.Trust;

/// <summary>Calibration checks in the tables <c>calibration_check…</c>.</summary>
internal static class CheckTables
{
    public static void Add(Db db, CalibrationCheck check, DateTimeOffset now)
    {
        TrustRow.Require(db, "calibration_check", "The calibration check", check.Id, check.SessionId);
        Requirements.Plaque(db, check.Plaque.Name);
        var (at, by, instrument) = check.Provenance;
        var revisionId = db.Scalar<long>(
            """
            INSERT INTO calibration_check (id, plaque_name, passed, due_at, session_id, read_at, read_by, profile, profile_hash, port, added_at)
            VALUES (@Id, @Plaque, @Passed, @DueAt, @Session, @At, @By, @Profile, @ProfileHash, @Port, @Now)
            RETURNING revision_id
            """,
            new
            {
                Id = Sql.Id(check.Id),
                Plaque = check.Plaque.Name,
                check.Passed,
                DueAt = Sql.Time(check.DueAt),
                Session = Sql.Id(check.SessionId),
                At = Sql.Time(at),
                By = by,
                instrument?.Profile,
                instrument?.ProfileHash,
                instrument?.Port,
                Now = Sql.Time(now),
            });
        ReadWriter.Add(db, ReadTables.CalibrationCheck, revisionId, check.Patches, check.SessionId);
    }

    public static List<CalibrationCheck> List(Db db) => Load(db, "ORDER BY read_at, id", null);

    public static CalibrationCheck? Last(Db db, string profile, DateTimeOffset until) => Load(
        db,
        "WHERE read_at <= @until AND coalesce(profile, @profile) = @profile ORDER BY read_at DESC, id DESC LIMIT 1",
        new { profile, until = Sql.Time(until) }).FirstOrDefault();

    private static List<CalibrationCheck> Load(Db db, string which, object? values)
    {
        var rows = db.Query<CheckRow>($"SELECT * FROM calibration_check {which}", values);
        var patches = ReadLoader.Load(db, ReadTables.CalibrationCheck, [.. rows.Select(r => r.RevisionId)]);
        var plaques = rows.Select(r => r.PlaqueName).Distinct(StringComparer.OrdinalIgnoreCase)
            .ToDictionary(n => n, n => PlaqueTables.Find(db, n)!, StringComparer.OrdinalIgnoreCase);
        return [.. rows.Select(r => new CalibrationCheck(
            Sql.Id(r.Id), plaques[r.PlaqueName], [.. patches[r.RevisionId]], r.Passed, r.ToProvenance(), Sql.OptionalId(r.SessionId)))];
    }

    private sealed record CheckRow : TrustRow
    {
        public string PlaqueName { get; init; } = "";
    }
}
