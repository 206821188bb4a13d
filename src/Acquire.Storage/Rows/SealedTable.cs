namespace Acquire.Storage.Rows;

/// <summary>
/// A table whose rows are sealed, all but the table of seals itself, under the name that the seals have for it. The tables of reads are
/// one for every kind of record and count as one for each: seals of rows that were in a table for their kind hold as they are.
/// </summary>
/// <param name="Name">What the seals call it.</param>
/// <param name="Source">The table in the file.</param>
/// <param name="Columns">What a seal holds of a row.</param>
/// <param name="Of">The kind of record whose reads it has; null for a table with one kind of row.</param>
internal sealed record SealedTable(string Name, string Source, IReadOnlyList<SealedTable.Column> Columns, string? Of = null)
{
    private const string Kind = "record";

    /// <summary>SQL for its rows.</summary>
    public string Rows => Of is null ? $"\"{Source}\"" : $"(SELECT * FROM \"{Source}\" WHERE {Kind} = '{Of}')";

    /// <summary>The tables of a file, by name; none when the file knows no seals yet.</summary>
    public static List<SealedTable> In(Db db)
    {
        var tables = db.Query<string>(
            "SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite#_%' ESCAPE '#' ORDER BY name");
        return tables.Remove("row_seal") ? [.. tables.SelectMany(t => In(db, t))] : [];
    }

    /// <summary>SQL for the name that the seals have for a row of <see cref="Source"/>.</summary>
    /// <param name="row">What stands before the columns, such as <c>NEW.</c>.</param>
    public string NameOf(string row) => Of is null ? $"'{Name}'" : $"{row}{Kind} || '{Name[Of.Length..]}'";

    /// <summary>SQL for the key of a row, a JSON array of its primary key.</summary>
    /// <param name="row">What stands before the columns, such as <c>NEW.</c>.</param>
    public string Key(string row) =>
        $"json_array({string.Join(", ", Columns.Where(c => c.KeyPosition > 0).OrderBy(c => c.KeyPosition).Select(c => row + c.Quoted))})";

    /// <summary>SQL for the digest of a row. Texts go as bytes, for a text may hold what ends a text elsewhere.</summary>
    /// <param name="row">What stands before the columns, such as <c>NEW.</c>.</param>
    public string Digest(string row) => $"row_digest({string.Join(", ", Columns.Select(c => $"'{c.Name}', {c.Value(row)}"))})";

    /// <summary>The first column of the key, which says which record a row belongs to.</summary>
    public string First => Columns.Where(c => c.KeyPosition > 0).MinBy(c => c.KeyPosition)!.Quoted;

    /// <summary>SQL for whether a row's key, as <see cref="Key"/> makes it, is that of a row of one record.</summary>
    /// <param name="rowKey">SQL for the row's key.</param>
    /// <param name="record">SQL for the first column.</param>
    public string KeyOfRecord(string rowKey, string record)
    {
        // [12] of a table with one column, [12,1] and its like of others: behind the number stands a comma, the letter before the hyphen.
        var begins = $"rtrim(json_array({record}), ']')";
        return Columns.Count(c => c.KeyPosition > 0) == 1
            ? $"{rowKey} = json_array({record})"
            : $"{rowKey} >= {begins} || ',' AND {rowKey} < {begins} || '-'";
    }

    private static IEnumerable<SealedTable> In(Db db, string table)
    {
        var columns = ColumnsOf(db, table);
        return columns.RemoveAll(c => c.Name == Kind) == 0
            ? [new SealedTable(table, table, columns)]
            : Enum.GetValues<ReadsOf>().Select(Words<ReadsOf>.Of)
                .Select(of => new SealedTable(of + table[Kind.Length..], table, columns, of));
    }

    private static List<Column> ColumnsOf(Db db, string table) => db.Query<Column>(
        "SELECT name, type, pk AS KeyPosition FROM pragma_table_info(@table) ORDER BY name", new { table });

    internal sealed record Column
    {
        public string Name { get; init; } = "";

        public string Type { get; init; } = "";

        public long KeyPosition { get; init; }

        public string Quoted => $"\"{Name}\"";

        public string Value(string row) => Type is "TEXT" or "BLOB" ? $"CAST({row}{Quoted} AS BLOB)" : row + Quoted;
    }
}

/// <summary>The kinds of record that are made of reads; a word of each stands in the tables of reads.</summary>
internal enum ReadsOf
{
    Strip,
    LotReference,
    CalibrationCheck,
    RepeatabilityTest,
    ReferenceRecheck,
}

/// <summary>What the seals say about the rows of a file.</summary>
/// <param name="Sealed">How many seals there are.</param>
/// <param name="Changed">Rows that are not as they were when they were sealed, or whose seal is not.</param>
/// <param name="Missing">Rows that were sealed and are gone.</param>
/// <param name="Unsealed">Rows without a seal.</param>
/// <param name="Gaps">Whether seals were taken out.</param>
internal sealed record SealCheck(
    long Sealed, IReadOnlyList<string> Changed, IReadOnlyList<string> Missing, IReadOnlyList<string> Unsealed, bool Gaps)
{
    /// <summary>Compares every row with its seal; null when the file knows no seals.</summary>
    /// <param name="db">A connection that has the functions, in a transaction, so that it sees one moment of the file.</param>
    public static SealCheck? Of(Db db)
    {
        var tables = SealedTable.In(db);
        if (tables.Count == 0)
        {
            return null;
        }

        var rows = Digests(db, tables);
        var (changed, missing, gaps) = (new List<string>(), new List<string>(), false);
        var (last, expected) = ((byte[]?)null, 1L);
        foreach (var seal in db.Query<SealRow>("SELECT sequence, table_name, row_key, hash FROM row_seal ORDER BY sequence"))
        {
            gaps |= seal.Sequence != expected;
            expected = seal.Sequence + 1;
            var name = $"{seal.TableName} {seal.RowKey}";
            if (!rows.Remove((seal.TableName, seal.RowKey), out var digest))
            {
                missing.Add(name);
            }

            // The seal before counts as it stands, so that one changed row does not spoil all seals after it.
            else if (!RowDigest.Seal(last, seal.TableName, seal.RowKey, digest).AsSpan().SequenceEqual(seal.Hash))
            {
                changed.Add(name);
            }

            last = seal.Hash;
        }

        return new SealCheck(expected - 1, changed, missing, [.. rows.Keys.Select(r => $"{r.Table} {r.Key}")], gaps);
    }

    private static Dictionary<(string Table, string Key), byte[]> Digests(Db db, List<SealedTable> tables) => tables
        .SelectMany(t => db.Query<(string Key, byte[] Digest)>($"SELECT {t.Key("")}, {t.Digest("")} FROM {t.Rows}")
            .Select(r => (t.Name, r.Key, r.Digest)))
        .DistinctBy(r => (r.Name, r.Key))
        .ToDictionary(r => (r.Name, r.Key), r => r.Digest);

    private sealed record SealRow
    {
        public long Sequence { get; init; }

        public string TableName { get; init; } = "";

        public string RowKey { get; init; } = "";

        public byte[] Hash { get; init; } = [];
    }
}
