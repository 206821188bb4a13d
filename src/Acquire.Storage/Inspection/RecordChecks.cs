using Acquire.Storage.Records;

namespace Acquire.Storage.Inspection;

/// <summary>Makes every record that the file holds, as a reader would.</summary>
internal static class RecordChecks
{
    public static IEnumerable<StoreFinding> Of(Db db, CancellationToken cancellationToken) =>
        [.. Strips(db, cancellationToken), .. Lots(db), .. Sessions(db, cancellationToken), .. Trust(db)];

    /// <summary>Every revision of every strip, one at a time, so that one that cannot be read is named.</summary>
    private static IEnumerable<StoreFinding> Strips(Db db, CancellationToken cancellationToken)
    {
        var loader = new StripLoader();
        var revisions = new List<(long Id, string Strip, long Revision)>();
        var listed = Attempt.Of("the list of strips", () =>
        {
            revisions = db.Query<(long, string, long)>("SELECT revision_id, strip_id, revision FROM strip_revision ORDER BY revision_id");
            return [];
        });
        return
        [
            .. listed,
            .. revisions.SelectMany(r =>
            {
                cancellationToken.ThrowIfCancellationRequested();
                return Attempt.Of($"strip {r.Strip}, revision {r.Revision}", () =>
                    loader.Load(db, [r.Id]).Select(RecordProof.Fault).OfType<string>()
                        .Select(wrong => new StoreFinding(StoreFindingKind.NotProved, $"strip {r.Strip}, revision {r.Revision}: {wrong}")));
            }),
        ];
    }

    private static IEnumerable<StoreFinding> Lots(
        Db db) => Attempt.Of("the list of lots", () => LotTables.List(db).SelectMany(lot => Attempt.Of(
        $"lot {lot.Code}",
        () => Read(
            () => ReferenceTables.List(db, lot.Code), () => AdjustmentTables.List(db, lot.Code), () => RecheckTables.List(db, lot.Code)))));

    private static IEnumerable<StoreFinding> Sessions(Db db, CancellationToken cancellationToken) =>
        Attempt.Of("the list of bench sessions", () => SessionTables.List(db).SelectMany(s =>
        {
            cancellationToken.ThrowIfCancellationRequested();
            return Attempt.Of($"session {s.Session.Id}", () => Read(() => LineTable.Of(db, s.Session.Id)));
        }));

    private static IEnumerable<StoreFinding> Trust(Db db) =>
    [
        .. Attempt.Of("the instruments", () => Read(() => InstrumentTables.List(db))),
        .. Attempt.Of("the plaques", () => Read(() => PlaqueTables.List(db))),
        .. Attempt.Of("the calibration checks", () => Read(() => CheckTables.List(db))),
        .. Attempt.Of("the repeatability tests", () => Read(() => RepeatabilityTables.List(db))),
    ];

    private static IEnumerable<StoreFinding> Read(params Func<object>[] reads)
    {
        foreach (var read in reads)
        {
            _ = read();
        }

        return [];
    }
}
