namespace Acquire.Storage.Rows;

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
        var tables = SealedTable.Of(db);
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
        .SelectMany(t => db.Query<(string Key, byte[] Digest)>($"SELECT {t.Key("")}, {t.Digest("")} FROM \"{t.Name}\"")
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
