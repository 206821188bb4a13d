namespace Acquire.Storage.Records;

/// <summary>Writes a revision of a strip, whole in itself, into the tables <c>strip…</c>.</summary>
internal static class StripWriter
{
    /// <summary>Writes a strip that was read here, or a correction of one.</summary>
    public static void Add(Db db, StripRecord strip, DateTimeOffset now)
    {
        var newest = db.Scalar<int?>("SELECT max(revision) FROM strip_revision WHERE strip_id = @id", new { id = Sql.Id(strip.Id) });
        Requirements.NextRevision("The strip", strip.Id, newest, strip.Revision.Number);
        _ = Add(db, strip, now, ForeignIds.None);
    }

    /// <summary>
    /// Writes a revision, whichever number it has, without the links to what lies in another store; gives its <c>revision_id</c>.
    /// </summary>
    public static long Add(Db db, StripRecord strip, DateTimeOffset now, ForeignIds foreign)
    {
        // A revision is written whole, also what did not change: what a strip was judged by must stay readable when its lot, sheet or
        // reference has moved on.
        Check(db, strip, foreign);
        _ = db.Execute(
            "INSERT INTO strip (id) SELECT @id WHERE NOT EXISTS (SELECT 1 FROM strip WHERE id = @id)", new { id = Sql.Id(strip.Id) });
        var revisionId = AddRevision(db, strip, SnapshotTables.Add(db, strip.JudgedBy), now, foreign);
        ReadWriter.Add(db, ReadsOf.Strip, revisionId, strip.Patches, foreign.Session is null ? strip.SessionId : null);
        db.InsertAll("strip_mean", strip.Means.Select((m, i) => new
        {
            revisionId,
            Position = i + 1,
            m.PatchKey,
            Channel = Words<Channel>.Of(m.Channel),
            m.Mean,
            m.Reads,
            m.StandardDeviation,
            m.Resolution,
        }));
        db.InsertAll("strip_aim", strip.Aims.Select((a, i) => new
        {
            revisionId,
            Position = i + 1,
            a.PatchKey,
            Channel = Words<Channel>.Of(a.Channel),
            a.Reference,
            a.Correction,
            a.Adjustment,
            a.StandardUncertainty,
        }));
        db.InsertAll("strip_repeatability", (strip.Repeatability?.Channels ?? []).Select(c => new
        {
            revisionId,
            Channel = Words<Channel>.Of(c.Channel),
            c.StandardDeviation,
            c.DegreesOfFreedom,
        }));
        QuestionTable.Add(db, strip, revisionId);
        return revisionId;
    }

    private static void Check(Db db, StripRecord strip, ForeignIds foreign)
    {
        Requirements.Lot(db, strip.LotCode);
        if (strip.SessionId is { } session && foreign.Session is null)
        {
            Requirements.Session(db, session);
        }

        if (strip.ReferenceId is { } reference && foreign.Reference is null
            && !db.Exists("SELECT 1 FROM lot_reference WHERE id = @id", new { id = Sql.Id(reference) }))
        {
            throw new StoreException(
                StoreFault.NotFound, $"There is no reference reading {reference}, which the strip {strip.Id} was judged by.");
        }

        if (strip.CheckId is { } check && foreign.Check is null)
        {
            Requirements.Check(db, check);
        }

        CheckRelations(db, strip, foreign);
        if (strip.Repeatability is { } test && foreign.Repeatability is null
            && !db.Exists("SELECT 1 FROM repeatability_test WHERE id = @id", new { id = Sql.Id(test.TestId) }))
        {
            throw new StoreException(
                StoreFault.NotFound, $"There is no repeatability test {test.TestId}, on which the strip {strip.Id} rests.");
        }

        // The tables hold the patches once. The record's own check compares keys without regard to case and no names.
        if (!strip.Patches.Select(p => p.Patch).SequenceEqual(strip.Layout.Patches))
        {
            throw new StoreException(
                StoreFault.Refused, $"The patches of the strip {strip.Id} are named otherwise than in its layout '{strip.Layout.Name}'.");
        }
    }

    private static void CheckRelations(Db db, StripRecord strip, ForeignIds foreign)
    {
        Guid?[] elsewhere = [foreign.Confirms, foreign.RereadOf, foreign.PairedWith];
        foreach (var (other, _) in strip.Tags.Others.Where(o => !elsewhere.Contains(o.Strip)))
        {
            if (!db.Exists("SELECT 1 FROM strip WHERE id = @id", new { id = Sql.Id(other) }))
            {
                throw new StoreException(
                    StoreFault.NotFound, $"There is no strip {other}, which the strip {strip.Id} refers to. See: acquire strip list");
            }
        }
    }

    private static long AddRevision(
        Db db, StripRecord strip, string processHash, DateTimeOffset now, ForeignIds foreign) => db.Insert(
        "strip_revision",
        new
        {
            StripId = Sql.Id(strip.Id),
            AddedAt = Sql.Time(now),
            strip.LotCode,
            LayoutName = strip.Layout.Name,
            processHash,
            ReferenceId = Sql.Id(foreign.Reference is null ? strip.ReferenceId : null),
            CheckId = Sql.Id(foreign.Check is null ? strip.CheckId : null),
            strip.CheckLacking,
            RepeatabilityId = Sql.Id(foreign.Repeatability is null ? strip.Repeatability?.TestId : null),
            SessionId = Sql.Id(foreign.Session is null ? strip.SessionId : null),
        },
        RevisionRow.Of(strip.Revision),
        ProvenanceRow.Of(strip.Provenance),
        TagColumns.Of(strip.Tags, foreign));
}

/// <summary>The table <c>strip_question</c>.</summary>
internal static class QuestionTable
{
    public static void Add(Db db, StripRecord strip, long revisionId) => db.InsertAll(
        "strip_question",
        strip.Questions.Select((q, i) => new
        {
            revisionId,
            Position = i + 1,
            q.Kind,
            q.Question,
            q.Remedy,
            q.Evidence,
            AskedAt = Sql.Time(q.AskedAt),
            Answer = Words<QuestionAnswer>.Of(q.Answer),
            AnsweredAt = Sql.Time(q.AnsweredAt),
        }));

    /// <summary>The questions of some revisions, in the order in which they were asked.</summary>
    public static ILookup<long, StripQuestion> Load(Db db, IReadOnlyCollection<long> revisions) => db.Query<QuestionRow>(
        "SELECT * FROM strip_question WHERE revision_id IN @revisions ORDER BY revision_id, position", new { revisions })
        .ToLookup(q => q.RevisionId, q => q.ToQuestion());

    private sealed record QuestionRow
    {
        public long RevisionId { get; init; }

        public string Kind { get; init; } = "";

        public string Question { get; init; } = "";

        public string Remedy { get; init; } = "";

        public double Evidence { get; init; }

        public string AskedAt { get; init; } = "";

        public string Answer { get; init; } = "";

        public string? AnsweredAt { get; init; }

        public StripQuestion ToQuestion() => new(Kind, Question, Remedy, Evidence, Sql.Time(AskedAt))
        {
            Answer = Words<QuestionAnswer>.Parse(Answer),
            AnsweredAt = AnsweredAt is { } at ? Sql.Time(at) : null,
        };
    }
}
