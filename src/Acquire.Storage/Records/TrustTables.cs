namespace Acquire.Storage.Records;

/// <summary>What the tables of checks and of repeatability tests have in common.</summary>
internal record TrustRow : ProvenanceRow
{
    public long RevisionId { get; init; }

    public string Id { get; init; } = "";

    public bool Passed { get; init; }

    public string? SessionId { get; init; }

    /// <summary>Refuses a record that is there already, or one of a session that is not.</summary>
    public static void Require(Db db, string table, string what, Guid id, Guid? sessionId)
    {
        if (db.Exists($"SELECT 1 FROM {table} WHERE id = @id", new { id = Sql.Id(id) }))
        {
            throw new StoreException(StoreFault.Duplicate, $"{what} {id} is in the store already.");
        }

        if (sessionId is { } session)
        {
            Requirements.Session(db, session);
        }
    }
}

/// <summary>Calibration checks in the tables <c>calibration_check…</c>.</summary>
internal static class CheckTables
{
    public static void Add(Db db, CalibrationCheck check, DateTimeOffset now)
    {
        TrustRow.Require(db, "calibration_check", "The calibration check", check.Id, check.SessionId);
        Requirements.Plaque(db, check.Plaque.Name);
        var revisionId = db.Insert(
            "calibration_check",
            new { Id = Sql.Id(check.Id), PlaqueName = check.Plaque.Name, check.Passed, DueAt = Sql.Time(check.DueAt) },
            new { SessionId = Sql.Id(check.SessionId), AddedAt = Sql.Time(now) },
            ProvenanceRow.Of(check.Provenance));
        ReadWriter.Add(db, ReadsOf.CalibrationCheck, revisionId, check.Patches, check.SessionId);
    }

    public static List<CalibrationCheck> List(Db db) => Load(db, "ORDER BY read_at, id", null);

    public static CalibrationCheck? Last(Db db, string instrument, DateTimeOffset until) => Load(
        db,
        "WHERE read_at <= @until AND coalesce(instrument_name, profile, @instrument) = @instrument COLLATE NOCASE "
        + "ORDER BY read_at DESC, id DESC LIMIT 1",
        new { instrument, until = Sql.Time(until) }).FirstOrDefault();

    private static List<CalibrationCheck> Load(Db db, string which, object? values)
    {
        var rows = db.Sound(SealedRecord.Check, db.Query<CheckRow>($"SELECT * FROM calibration_check {which}", values), r => r.RevisionId);
        var patches = ReadLoader.Load(db, ReadsOf.CalibrationCheck, [.. rows.Select(r => r.RevisionId)]);
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

/// <summary>Repeatability tests in the tables <c>repeatability_test…</c>.</summary>
internal static class RepeatabilityTables
{
    public static void Add(Db db, RepeatabilityTest test, DateTimeOffset now)
    {
        TrustRow.Require(db, "repeatability_test", "The repeatability test", test.Id, test.SessionId);
        var revisionId = db.Insert(
            "repeatability_test",
            new { Id = Sql.Id(test.Id), test.ReadsPerPlacement, test.Specification, test.Passed },
            new { SessionId = Sql.Id(test.SessionId), AddedAt = Sql.Time(now) },
            ProvenanceRow.Of(test.Provenance));
        ReadWriter.Add(db, ReadsOf.RepeatabilityTest, revisionId, test.Patches, test.SessionId);
    }

    public static List<RepeatabilityTest> List(Db db)
    {
        var rows = db.Sound(
            SealedRecord.Repeatability, db.Query<TestRow>("SELECT * FROM repeatability_test ORDER BY read_at, id"), r => r.RevisionId);
        var patches = ReadLoader.Load(db, ReadsOf.RepeatabilityTest, [.. rows.Select(r => r.RevisionId)]);
        return [.. rows.Select(r => new RepeatabilityTest(
            Sql.Id(r.Id),
            [.. patches[r.RevisionId]],
            r.ReadsPerPlacement,
            r.Specification,
            r.Passed,
            r.ToProvenance(),
            Sql.OptionalId(r.SessionId)))];
    }

    private sealed record TestRow : TrustRow
    {
        public int ReadsPerPlacement { get; init; }

        public double Specification { get; init; }
    }
}

/// <summary>Reference strips that were read again, in the tables <c>reference_recheck…</c>.</summary>
internal static class RecheckTables
{
    public static void Add(Db db, ReferenceRecheck recheck, DateTimeOffset now)
    {
        TrustRow.Require(db, "reference_recheck", "The recheck", recheck.Id, recheck.SessionId);
        Requirements.Lot(db, recheck.LotCode);
        var revisionId = db.Insert(
            "reference_recheck",
            new { Id = Sql.Id(recheck.Id), recheck.LotCode },
            new { SessionId = Sql.Id(recheck.SessionId), AddedAt = Sql.Time(now) },
            ProvenanceRow.Of(recheck.Provenance));
        ReadWriter.Add(db, ReadsOf.ReferenceRecheck, revisionId, recheck.Patches, recheck.SessionId);
    }

    public static List<ReferenceRecheck> List(Db db, string lotCode)
    {
        _ = db.Sound(SealedRecord.Recheck.Head, db.Query<long>("SELECT revision_id FROM reference_recheck"), id => id);
        var rows = db.Sound(
            SealedRecord.Recheck,
            db.Query<RecheckRow>("SELECT * FROM reference_recheck WHERE lot_code = @lotCode ORDER BY read_at, id", new { lotCode }),
            r => r.RevisionId);
        var patches = ReadLoader.Load(db, ReadsOf.ReferenceRecheck, [.. rows.Select(r => r.RevisionId)]);
        return [.. rows.Select(r => new ReferenceRecheck(
            Sql.Id(r.Id), r.LotCode, [.. patches[r.RevisionId]], r.ToProvenance(), Sql.OptionalId(r.SessionId)))];
    }

    private sealed record RecheckRow : TrustRow
    {
        public string LotCode { get; init; } = "";
    }
}
