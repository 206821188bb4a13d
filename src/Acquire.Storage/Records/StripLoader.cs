namespace Acquire.Storage.Records;

/// <summary>Makes records of the tables <c>strip…</c>. One loader reads a sheet once, however many strips were judged by it.</summary>
internal sealed class StripLoader
{
    private readonly Dictionary<string, ProcessSheet> _sheets = [];

    /// <summary>
    /// The records of some revisions, in the order asked for; where they are shown to somebody, those that are as they were written.
    /// </summary>
    public List<StripRecord> Load(Db db, IReadOnlyCollection<long> asked)
    {
        // A page is loaded with a few queries for all its strips; only where one of them cannot be read are they taken one by one, so that
        // one strip of another version does not hide those beside it.
        var whole = db.Sound(
            SealedRecord.StripId,
            db.Query<(long Revision, string Strip)>(
                "SELECT revision_id, strip_id FROM strip_revision WHERE revision_id IN @asked", new { asked }),
            r => r.Strip).Select(r => r.Revision).ToHashSet();
        var sound = db.Sound(SealedRecord.Strip, [.. asked.Where(whole.Contains)], r => r);
        try
        {
            return Records(db, sound);
        }
        catch (Exception e) when (Db.IsUnreadable(e))
        {
            return [.. sound.SelectMany(id => db.Readable(SealedRecord.Strip, id, () => Records(db, [id])[0]))];
        }
    }

    private List<StripRecord> Records(Db db, List<long> revisions)
    {
        var patches = ReadLoader.Load(db, ReadsOf.Strip, revisions);
        var means = db.Query<MeanRow>(
            "SELECT * FROM strip_mean WHERE revision_id IN @revisions ORDER BY revision_id, position", new { revisions })
            .ToLookup(m => m.RevisionId, m => m.ToMean());
        var aims = db.Query<AimRow>(
            "SELECT * FROM strip_aim WHERE revision_id IN @revisions ORDER BY revision_id, position", new { revisions })
            .ToLookup(a => a.RevisionId, a => a.ToAim());
        var scatter = db.Query<ScatterRow>("SELECT * FROM strip_repeatability WHERE revision_id IN @revisions", new { revisions })
            .ToLookup(s => s.RevisionId, s => s.ToScatter());
        var rows = db.Query<StripRow>("SELECT * FROM strip_revision WHERE revision_id IN @revisions", new { revisions })
            .ToDictionary(r => r.RevisionId);
        var tags = db.Rows($"SELECT revision_id, {TagColumns.Names} FROM strip_revision WHERE revision_id IN @revisions", new { revisions })
            .ToDictionary(r => (long)r["revision_id"]!);
        var questions = QuestionTable.Load(db, revisions);
        var imported = ImportTables.Load(db, revisions);
        return [.. revisions.Select(id => Record(rows[id]))];

        StripRecord Record(StripRow row)
        {
            PatchReads[] reads = [.. patches[row.RevisionId]];
            // The columns have foreign keys, so an id of another store stands in strip_import instead: a record is what both say.
            var foreign = imported.GetValueOrDefault(row.RevisionId, ForeignIds.None);
            return new StripRecord(
                Sql.Id(row.StripId),
                row.LotCode,
                new StripLayout(row.LayoutName, [.. reads.Select(p => p.Patch)]),
                Sheet(db, row.ProcessHash),
                [.. reads],
                [.. means[row.RevisionId]],
                [.. aims[row.RevisionId]],
                row.ToProvenance(),
                row.ToRevision())
            {
                ReferenceId = Sql.OptionalId(row.ReferenceId) ?? foreign.Reference,
                SessionId = Sql.OptionalId(row.SessionId) ?? foreign.Session,
                CheckId = Sql.OptionalId(row.CheckId) ?? foreign.Check,
                CheckLacking = row.CheckLacking,
                Repeatability = (Sql.OptionalId(row.RepeatabilityId) ?? foreign.Repeatability) is { } test
                    ? new RepeatabilityInForce(test, [.. scatter[row.RevisionId].OrderBy(s => s.Channel)])
                    : null,
                Tags = TagColumns.Of(tags[row.RevisionId], foreign),
                Questions = [.. questions[row.RevisionId]],
            };
        }
    }

    private ProcessSheet Sheet(Db db, string hash)
    {
        if (!_sheets.TryGetValue(hash, out var sheet))
        {
            _sheets[hash] = sheet = SnapshotTables.Load(db, hash);
        }

        return sheet;
    }
}

internal sealed record StripRow : RevisionRow
{
    public string StripId { get; init; } = "";

    public string LayoutName { get; init; } = "";

    public string ProcessHash { get; init; } = "";

    public string? ReferenceId { get; init; }

    public string? CheckId { get; init; }

    public string? CheckLacking { get; init; }

    public string? RepeatabilityId { get; init; }
}

internal sealed record MeanRow
{
    public long RevisionId { get; init; }

    public string PatchKey { get; init; } = "";

    public string Channel { get; init; } = "";

    public double Mean { get; init; }

    public int Reads { get; init; }

    public double? StandardDeviation { get; init; }

    public double Resolution { get; init; }

    public PatchMean ToMean() => new(PatchKey, Words<Channel>.Parse(Channel), Mean, Reads, StandardDeviation, Resolution);
}

internal sealed record ScatterRow
{
    public long RevisionId { get; init; }

    public string Channel { get; init; } = "";

    public double StandardDeviation { get; init; }

    public int DegreesOfFreedom { get; init; }

    public ChannelScatter ToScatter() => new(Words<Channel>.Parse(Channel), StandardDeviation, DegreesOfFreedom);
}

internal sealed record AimRow
{
    public long RevisionId { get; init; }

    public string PatchKey { get; init; } = "";

    public string Channel { get; init; } = "";

    public double Reference { get; init; }

    public double Correction { get; init; }

    public double Adjustment { get; init; }

    public double StandardUncertainty { get; init; }

    public Aim ToAim() =>
        new(PatchKey, Words<Channel>.Parse(Channel), Reference, Correction, StandardUncertainty) { Adjustment = Adjustment };
}
