using Acquire.Storage.Reads;

namespace Acquire.Storage.Trust;

/// <summary>Repeatability tests in the tables <c>repeatability_test…</c>.</summary>
internal static class RepeatabilityTables
{
    public static void Add(Db db, RepeatabilityTest test, DateTimeOffset now)
    {
        TrustRow.Require(db, "repeatability_test", "The repeatability test", test.Id, test.SessionId);
        var (at, by, instrument) = test.Provenance;
        var revisionId = db.Scalar<long>(
            """
            INSERT INTO repeatability_test
                (id, reads_per_placement, specification, passed, session_id, read_at, read_by, profile, profile_hash, port, added_at)
            VALUES (@Id, @ReadsPerPlacement, @Specification, @Passed, @Session, @At, @By, @Profile, @ProfileHash, @Port, @Now)
            RETURNING revision_id
            """,
            new
            {
                Id = Sql.Id(test.Id),
                test.ReadsPerPlacement,
                test.Specification,
                test.Passed,
                Session = Sql.Id(test.SessionId),
                At = Sql.Time(at),
                By = by,
                instrument?.Profile,
                instrument?.ProfileHash,
                instrument?.Port,
                Now = Sql.Time(now),
            });
        ReadWriter.Add(db, ReadTables.RepeatabilityTest, revisionId, test.Patches, test.SessionId);
    }

    public static List<RepeatabilityTest> List(Db db)
    {
        var rows = db.Query<TestRow>("SELECT * FROM repeatability_test ORDER BY read_at, id");
        var patches = ReadLoader.Load(db, ReadTables.RepeatabilityTest, [.. rows.Select(r => r.RevisionId)]);
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
