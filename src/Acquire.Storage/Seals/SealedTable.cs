namespace Acquire.Storage.Seals;

/// <summary>A table whose rows are sealed: all but the table of seals itself.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Columns">Its columns.</param>
internal sealed record SealedTable(string Name, IReadOnlyList<SealedTable.Column> Columns)
{
    /// <summary>The tables of a file, by name; none when the file knows no seals yet.</summary>
    public static List<SealedTable> Of(Db db)
    {
        var tables = db.Query<string>(
            "SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite#_%' ESCAPE '#' ORDER BY name");
        return tables.Remove("row_seal") ? [.. tables.Select(t => new SealedTable(t, ColumnsOf(db, t)))] : [];
    }

    /// <summary>SQL for the key of a row, a JSON array of its primary key.</summary>
    /// <param name="row">What stands before the columns, such as <c>NEW.</c>.</param>
    public string Key(string row) => $"json_array({string.Join(", ", Columns.Where(c => c.KeyPosition > 0).OrderBy(c => c.KeyPosition).Select(c => row + c.Quoted))})";

    /// <summary>SQL for the digest of a row. Texts go as bytes, for a text may hold what ends a text elsewhere.</summary>
    /// <param name="row">What stands before the columns, such as <c>NEW.</c>.</param>
    public string Digest(string row) => $"row_digest({string.Join(", ", Columns.Select(c => $"'{c.Name}', {c.Value(row)}"))})";

    private static List<Column> ColumnsOf(Db db, string table) => db.Query<Column>(
        "SELECT name, type, pk AS KeyPosition FROM pragma_table_info(@table) ORDER BY name", new { table });

    /// <summary>One column.</summary>
    internal sealed record Column
    {
        public string Name { get; init; } = "";

        public string Type { get; init; } = "";

        public long KeyPosition { get; init; }

        public string Quoted => $"\"{Name}\"";

        public string Value(string row) => Type is "TEXT" or "BLOB" ? $"CAST({row}{Quoted} AS BLOB)" : row + Quoted;
    }
}
