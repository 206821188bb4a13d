namespace Acquire.Storage.Records;

/// <summary>Readings of reference strips in the tables <c>lot_reference…</c>. The revision added last is in force.</summary>
internal static class ReferenceTables
{
    public static void Add(Db db, LotReference reference, DateTimeOffset now)
    {
        Requirements.Lot(db, reference.LotCode);
        if (reference.SessionId is { } session)
        {
            Requirements.Session(db, session);
        }

        var id = Sql.Id(reference.Id);
        var newest = db.First<RevisionRow>(
            "SELECT * FROM lot_reference_revision WHERE reference_id = @id ORDER BY revision DESC LIMIT 1", new { id });
        Requirements.NextRevision("The reference reading", reference.Id, newest?.Revision, reference.Revision.Number);
        if (newest is null)
        {
            _ = db.Insert("lot_reference", new { id });
            db.InsertAll(
                "lot_reference_strip",
                reference.BaselineStrips.Select((s, i) => new { ReferenceId = id, Position = i + 1, StripId = Sql.Id(s) }));
        }
        else if (!string.Equals(newest.LotCode, reference.LotCode, StringComparison.OrdinalIgnoreCase))
        {
            throw new StoreException(
                StoreFault.Conflict,
                $"The reference reading {reference.Id} belongs to lot '{newest.LotCode}' and cannot move to '{reference.LotCode}'; "
                + "add a new one there.");
        }

        var revisionId = db.Insert(
            "lot_reference_revision",
            new { ReferenceId = id, AddedAt = Sql.Time(now), reference.LotCode, SessionId = Sql.Id(reference.SessionId) },
            RevisionRow.Of(reference.Revision),
            ProvenanceRow.Of(reference.Provenance));
        if (reference.Origin is { } origin)
        {
            _ = db.Insert("lot_reference_origin", new
            {
                RevisionId = revisionId,
                origin.Reads,
                origin.Profile,
                origin.ListUncertainty,
                InstrumentName = ProvenanceRow.OwnName(origin.Instrument, origin.Profile),
            });
        }

        ReadWriter.Add(db, ReadsOf.LotReference, revisionId, reference.Patches, reference.SessionId);
    }

    public static LotReference? Current(Db db, string lotCode) =>
        Load(db, "WHERE lot_code = @lotCode ORDER BY revision_id DESC LIMIT 1", new { lotCode }).FirstOrDefault();

    public static List<LotReference> List(Db db, string lotCode) =>
        Load(db, "WHERE lot_code = @lotCode ORDER BY revision_id", new { lotCode });

    private static List<LotReference> Load(Db db, string which, object values)
    {
        // Aims are made of them, so that a strip judged without one that was changed would be judged wrong.
        _ = db.Whole(SealedRecord.Reference.Head, db.Query<long>("SELECT revision_id FROM lot_reference_revision"), id => id);
        var rows = db.Whole(
            SealedRecord.Reference, db.Query<ReferenceRow>($"SELECT * FROM lot_reference_revision {which}", values), r => r.RevisionId);
        _ = db.Whole(SealedRecord.ReferenceId, rows, r => r.ReferenceId);
        var patches = ReadLoader.Load(db, ReadsOf.LotReference, [.. rows.Select(r => r.RevisionId)]);
        var strips = db.Query<(string Reference, string Strip)>(
            "SELECT reference_id, strip_id FROM lot_reference_strip WHERE reference_id IN @ids ORDER BY reference_id, position",
            new { ids = rows.Select(r => r.ReferenceId).Distinct() }).ToLookup(s => s.Reference, s => Sql.Id(s.Strip));
        var origins = db.Query<OriginRow>(
            "SELECT * FROM lot_reference_origin WHERE revision_id IN @ids", new { ids = rows.Select(r => r.RevisionId) })
            .ToDictionary(o => o.RevisionId, o => o.ToOrigin());
        return [.. rows.Select(r => new LotReference(
            Sql.Id(r.ReferenceId),
            r.LotCode,
            [.. patches[r.RevisionId]],
            r.ToProvenance(),
            r.ToRevision(),
            Sql.OptionalId(r.SessionId))
        {
            BaselineStrips = [.. strips[r.ReferenceId]],
            Origin = origins.GetValueOrDefault(r.RevisionId),
        })];
    }

    private sealed record ReferenceRow : RevisionRow
    {
        public string ReferenceId { get; init; } = "";
    }

    private sealed record OriginRow
    {
        public long RevisionId { get; init; }

        public long? Reads { get; init; }

        public string? Profile { get; init; }

        public string? InstrumentName { get; init; }

        public double? ListUncertainty { get; init; }

        public ReferenceOrigin ToOrigin() => ListUncertainty is { } list
            ? ReferenceOrigin.FromList(list)
            : ReferenceOrigin.Read((int)Reads!.Value, Profile, InstrumentName);
    }
}
