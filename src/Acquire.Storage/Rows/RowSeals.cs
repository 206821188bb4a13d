using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Rows;

/// <summary>
/// Seals rows as they are written. A seal tells damage and careless changes; it is no signature: who can write the file and has this
/// program's source can make seals too.
/// </summary>
internal static class RowSeals
{
    /// <summary>
    /// Makes a writing connection seal every row that it adds to any table, in the same transaction. The triggers are the connection's own:
    /// the functions in them are known to no other program. Does nothing to a file that knows no seals yet.
    /// </summary>
    public static void Attach(SqliteConnection connection)
    {
        AddFunctions(connection);
        foreach (var table in SealedTable.Of(new Db(connection, null)))
        {
            _ = connection.Execute(
                $"""
                CREATE TEMP TRIGGER "seal_{table.Name}" AFTER INSERT ON main."{table.Name}"
                BEGIN
                    INSERT INTO row_seal (table_name, row_key, hash)
                    SELECT '{table.Name}', {table.Key("NEW.")},
                        row_seal_hash((SELECT hash FROM row_seal ORDER BY sequence DESC LIMIT 1), '{table.Name}', {table.Key("NEW.")}, {table.Digest("NEW.")});
                END
                """);
        }
    }

    /// <summary>The functions that seals are made with.</summary>
    public static void AddFunctions(SqliteConnection connection)
    {
        connection.CreateFunction("row_digest", (object?[] parts) => RowDigest.Of(parts), isDeterministic: true);
        connection.CreateFunction(
            "row_seal_hash",
            (byte[]? before, string table, string key, byte[] digest) => RowDigest.Seal(before, table, key, digest),
            isDeterministic: true);
    }

    /// <summary>
    /// Seals the rows that have no seal, as they are: those of a file that comes from an earlier version, once it has been brought to this
    /// one. The connection must have the functions.
    /// </summary>
    /// <returns>How many.</returns>
    public static long SealMissing(Db db)
    {
        var tables = SealedTable.Of(db);
        if (tables.Count == 0)
        {
            return 0;
        }

        var there = db.Query<(string, string)>("SELECT table_name, row_key FROM row_seal").ToHashSet();
        var last = db.First<byte[]>("SELECT hash FROM row_seal ORDER BY sequence DESC LIMIT 1");
        var added = 0L;
        foreach (var table in tables)
        {
            var rows = db.Query<(string Key, byte[] Digest)>($"SELECT {table.Key("")}, {table.Digest("")} FROM \"{table.Name}\"");
            foreach (var (key, digest) in rows.Where(r => !there.Contains((table.Name, r.Key))))
            {
                last = RowDigest.Seal(last, table.Name, key, digest);
                added += db.Execute(
                    "INSERT INTO row_seal (table_name, row_key, hash) VALUES (@Name, @key, @last)", new { table.Name, key, last });
            }
        }

        return added;
    }
}
