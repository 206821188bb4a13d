namespace Acquire.Storage.Records;

/// <summary>Plaques in the tables <c>plaque</c> and <c>plaque_patch</c>.</summary>
internal static class PlaqueTables
{
    public static void Add(Db db, Plaque plaque, DateTimeOffset now)
    {
        if (db.Exists("SELECT 1 FROM plaque WHERE name = @Name", new { plaque.Name }))
        {
            throw new StoreException(
                StoreFault.Duplicate,
                $"There is a plaque '{plaque.Name}' already, and old checks refer to its values. "
                + "A plaque that was certified anew gets a name of its own.");
        }

        _ = db.Insert("plaque", new
        {
            plaque.Name,
            plaque.Tolerance,
            plaque.DueDays,
            Expires = Sql.Date(plaque.Expires),
            plaque.Note,
            AddedAt = Sql.Time(now),
        });
        db.InsertAll("plaque_patch", plaque.Patches.Select((p, i) => new
        {
            PlaqueName = plaque.Name,
            Position = i + 1,
            p.Patch.Key,
            p.Patch.Name,
            Red = Sql.Density(p.Certified.Red),
            Green = Sql.Density(p.Certified.Green),
            Blue = Sql.Density(p.Certified.Blue),
            Visual = Sql.Density(p.Certified.Visual),
            p.Uncertainty,
        }));
    }

    public static Plaque? Find(Db db, string name) =>
        db.Whole(SealedRecord.Plaque, Rows(db, "WHERE name = @name", new { name }), r => r.Name).Select(r => ToPlaque(db, r))
            .FirstOrDefault();

    public static List<Plaque> List(Db db) =>
        [.. db.Sound(SealedRecord.Plaque, Rows(db, "ORDER BY added_at, name", null), r => r.Name).Select(r => ToPlaque(db, r))];

    private static List<PlaqueRow> Rows(Db db, string which, object? values) =>
        db.Query<PlaqueRow>($"SELECT name, tolerance, due_days, expires, note FROM plaque {which}", values);

    private static Plaque ToPlaque(Db db, PlaqueRow row) => new(
        row.Name,
        [.. db.Query<PatchRow>("SELECT * FROM plaque_patch WHERE plaque_name = @Name ORDER BY position", new { row.Name })
            .Select(p => p.ToPatch())],
        row.Tolerance,
        row.DueDays,
        Sql.Date(row.Expires),
        row.Note);

    private sealed record PlaqueRow
    {
        public string Name { get; init; } = "";

        public double Tolerance { get; init; }

        public int DueDays { get; init; }

        public string? Expires { get; init; }

        public string? Note { get; init; }
    }

    private sealed record PatchRow
    {
        public string Key { get; init; } = "";

        public string Name { get; init; } = "";

        public string? Red { get; init; }

        public string? Green { get; init; }

        public string? Blue { get; init; }

        public string? Visual { get; init; }

        public double Uncertainty { get; init; }

        public PlaquePatch ToPatch() => new(
            new Patch(Key, Name),
            new ChannelDensities(Sql.Density(Red), Sql.Density(Green), Sql.Density(Blue), Sql.Density(Visual)),
            Uncertainty);
    }
}
