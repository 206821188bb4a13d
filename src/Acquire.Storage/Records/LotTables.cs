namespace Acquire.Storage.Records;

/// <summary>Lots in the tables <c>lot</c>, <c>lot_patch</c> and <c>lot_correction</c>.</summary>
internal static class LotTables
{
    public static void Add(Db db, StripLot lot, DateTimeOffset now)
    {
        if (db.Exists("SELECT 1 FROM lot WHERE code = @Code", new { lot.Code }))
        {
            throw new StoreException(
                StoreFault.Duplicate, $"There is a lot '{lot.Code}' already; code numbers are compared without regard to case.");
        }

        _ = db.Insert("lot", new
        {
            lot.Code,
            lot.ProcessKey,
            LayoutName = lot.Layout.Name,
            Expires = Sql.Date(lot.Expires),
            lot.StorageRule,
            lot.Note,
            AddedAt = Sql.Time(now),
        });
        db.InsertAll("lot_patch", lot.Layout.Patches.Select((p, i) => new { LotCode = lot.Code, Position = i + 1, p.Key, p.Name }));
        db.InsertAll("lot_correction", lot.CorrectionFactors.Select((f, i) => new
        {
            LotCode = lot.Code,
            Position = i + 1,
            f.PatchKey,
            Channel = Words<Channel>.Of(f.Channel),
            f.Value,
        }));
    }

    public static StripLot? Find(Db db, string code) =>
        db.Whole(SealedRecord.Lot, Rows(db, "WHERE code = @code", new { code }), r => r.Code).Select(r => ToLot(db, r)).FirstOrDefault();

    public static List<StripLot> List(Db db) =>
        [.. db.Sound(SealedRecord.Lot, Rows(db, "ORDER BY added_at, code", null), r => r.Code).Select(r => ToLot(db, r))];

    private static List<LotRow> Rows(Db db, string which, object? values) =>
        db.Query<LotRow>($"SELECT code, process_key, layout_name, expires, storage_rule, note FROM lot {which}", values);

    private static StripLot ToLot(Db db, LotRow row)
    {
        var patches = db.Query<NameRow>("SELECT key, name FROM lot_patch WHERE lot_code = @Code ORDER BY position", new { row.Code });
        var factors = db.Query<FactorRow>(
            "SELECT patch_key, channel, value FROM lot_correction WHERE lot_code = @Code ORDER BY position", new { row.Code });
        return new StripLot(
            row.Code,
            row.ProcessKey,
            new StripLayout(row.LayoutName, [.. patches.Select(p => new Patch(p.Key, p.Name))]),
            [.. factors.Select(f => new CorrectionFactor(f.PatchKey, Words<Channel>.Parse(f.Channel), f.Value))],
            Sql.Date(row.Expires),
            row.StorageRule,
            row.Note);
    }

    private sealed record LotRow
    {
        public string Code { get; init; } = "";

        public string ProcessKey { get; init; } = "";

        public string LayoutName { get; init; } = "";

        public string? Expires { get; init; }

        public string? StorageRule { get; init; }

        public string? Note { get; init; }
    }

    private sealed record NameRow
    {
        public string Key { get; init; } = "";

        public string Name { get; init; } = "";
    }

    private sealed record FactorRow
    {
        public string PatchKey { get; init; } = "";

        public string Channel { get; init; } = "";

        public double Value { get; init; }
    }
}
