namespace Acquire.Storage.Records;

/// <summary>Crossovers that were accepted, in the tables <c>aim_adjustment…</c>.</summary>
internal static class AdjustmentTables
{
    public static void Add(Db db, AimAdjustment adjustment, DateTimeOffset now)
    {
        Requirements.Lot(db, adjustment.LotCode);
        Requirements.Lot(db, adjustment.FromLotCode);
        var reference = Sql.Id(adjustment.ReferenceId);
        var inForce =
            db.First<string>("SELECT reference_id FROM current_lot_reference WHERE lot_code = @LotCode", new { adjustment.LotCode });
        if (inForce != reference)
        {
            throw new StoreException(
                StoreFault.Conflict,
                $"The reference of lot {adjustment.LotCode} was read anew meanwhile. Look at the crossover again before you accept it.");
        }

        var adjustmentId = db.Insert("aim_adjustment", new
        {
            Id = Sql.Id(adjustment.Id),
            adjustment.LotCode,
            ReferenceId = reference,
            adjustment.FromLotCode,
            MadeBy = adjustment.By,
            MadeAt = Sql.Time(adjustment.At),
            adjustment.Reason,
            AddedAt = Sql.Time(now),
        });
        db.InsertAll("aim_adjustment_value", adjustment.Values.Select((v, i) => new
        {
            adjustmentId,
            Position = i + 1,
            v.PatchKey,
            Channel = Words<Channel>.Of(v.Channel),
            v.Value,
            v.StandardUncertainty,
        }));
        db.InsertAll("aim_adjustment_pair", adjustment.Pairs.Select((p, i) => new
        {
            adjustmentId,
            Position = i + 1,
            OldStripId = Sql.Id(p.Old),
            NewStripId = Sql.Id(p.New),
        }));
    }

    /// <summary>The adjustments of a lot, in the order in which they were accepted.</summary>
    public static List<AimAdjustment> List(Db db, string lotCode)
    {
        _ = db.Whole(SealedRecord.Adjustment.Head, db.Query<long>("SELECT adjustment_id FROM aim_adjustment"), id => id);
        var rows =
            db.Query<AdjustmentRow>("SELECT * FROM aim_adjustment WHERE lot_code = @lotCode ORDER BY adjustment_id", new { lotCode });
        return [.. db.Whole(SealedRecord.Adjustment, rows, r => r.AdjustmentId).Select(row => ToAdjustment(db, row))];
    }

    private static AimAdjustment ToAdjustment(Db db, AdjustmentRow row)
    {
        var which = new { row.AdjustmentId };
        var values = db.Query<ValueRow>("SELECT * FROM aim_adjustment_value WHERE adjustment_id = @AdjustmentId ORDER BY position", which);
        var pairs = db.Query<PairRow>("SELECT * FROM aim_adjustment_pair WHERE adjustment_id = @AdjustmentId ORDER BY position", which);
        return new AimAdjustment(
            Sql.Id(row.Id),
            row.LotCode,
            Sql.Id(row.ReferenceId),
            row.FromLotCode,
            [.. values.Select(v => new AdjustedAim(v.PatchKey, Words<Channel>.Parse(v.Channel), v.Value, v.StandardUncertainty))],
            [.. pairs.Select(p => new StripPair(Sql.Id(p.OldStripId), Sql.Id(p.NewStripId)))],
            row.MadeBy,
            Sql.Time(row.MadeAt),
            row.Reason);
    }

    private sealed record AdjustmentRow
    {
        public long AdjustmentId { get; init; }

        public string Id { get; init; } = "";

        public string LotCode { get; init; } = "";

        public string ReferenceId { get; init; } = "";

        public string FromLotCode { get; init; } = "";

        public string MadeBy { get; init; } = "";

        public string MadeAt { get; init; } = "";

        public string Reason { get; init; } = "";
    }

    private sealed record ValueRow
    {
        public string PatchKey { get; init; } = "";

        public string Channel { get; init; } = "";

        public double Value { get; init; }

        public double StandardUncertainty { get; init; }
    }

    private sealed record PairRow
    {
        public string OldStripId { get; init; } = "";

        public string NewStripId { get; init; } = "";
    }
}
