using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
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
        foreach (var table in SealedTable.In(new Db(connection, null)).DistinctBy(t => t.Source))
        {
            _ = connection.Execute(
                $"""
                CREATE TEMP TRIGGER "seal_{table.Source}" AFTER INSERT ON main."{table.Source}"
                BEGIN
                    INSERT INTO row_seal (table_name, row_key, hash)
                    SELECT {table.NameOf("NEW.")}, {table.Key("NEW.")},
                        row_seal_hash((SELECT hash FROM row_seal ORDER BY sequence DESC LIMIT 1), {table.NameOf("NEW.")}, {table.Key("NEW.")}, {table.Digest("NEW.")});
                END
                """);
        }
    }

    public static void AddFunctions(SqliteConnection connection)
    {
        connection.CreateFunction("row_digest", (object?[] parts) => RowDigest.Of(parts), isDeterministic: true);
        connection.CreateFunction(
            "row_seal_hash",
            (byte[]? before, string table, string key, byte[] digest) => RowDigest.Seal(before, table, key, digest),
            isDeterministic: true);
    }

    /// <summary>The rows that have no seal, by table and key; none in a file that knows no seals.</summary>
    public static HashSet<(string Table, string Key)> Unsealed(Db db)
    {
        var tables = SealedTable.In(db);
        var there = tables.Count == 0 ? [] : Sealed(db);
        return
        [
            .. from table in tables
               from key in db.Query<string>($"SELECT {table.Key("")} FROM {table.Rows}")
               where !there.Contains((table.Name, key))
               select (table.Name, key),
        ];
    }

    /// <summary>Seals the rows that have no seal, as they are. The connection must have the functions.</summary>
    /// <param name="except">Rows that get none: they lay unsealed in a file that knew seals, so this program did not write them.</param>
    /// <returns>How many.</returns>
    public static long SealMissing(Db db, IReadOnlySet<(string Table, string Key)> except)
    {
        var tables = SealedTable.In(db);
        if (tables.Count == 0)
        {
            return 0;
        }

        var there = Sealed(db);
        var last = db.First<byte[]>("SELECT hash FROM row_seal ORDER BY sequence DESC LIMIT 1");
        var added = 0L;
        foreach (var table in tables)
        {
            var rows = db.Query<(string Key, byte[] Digest)>($"SELECT {table.Key("")}, {table.Digest("")} FROM {table.Rows}");
            foreach (var (key, digest) in rows.Where(r => !there.Contains((table.Name, r.Key)) && !except.Contains((table.Name, r.Key))))
            {
                last = RowDigest.Seal(last, table.Name, key, digest);
                added += db.Execute(
                    "INSERT INTO row_seal (table_name, row_key, hash) VALUES (@Name, @key, @last)", new { table.Name, key, last });
            }
        }

        return added;
    }

    private static HashSet<(string Table, string Key)> Sealed(Db db) =>
        [.. db.Query<(string, string)>("SELECT table_name, row_key FROM row_seal")];
}

/// <summary>SHA-256 over the content of a row, and over the chain of seals.</summary>
internal static class RowDigest
{
    public const int Length = SHA256.HashSizeInBytes;

    /// <summary>
    /// The digest of a row, of column names and values in turn. What is null is left out, so that a column that a later version adds, null
    /// in old rows, leaves their digest as it was.
    /// </summary>
    public static byte[] Of(IReadOnlyList<object?> namesAndValues)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        for (var i = 0; i + 1 < namesAndValues.Count; i += 2)
        {
            if (Bytes(namesAndValues[i + 1]) is { } value)
            {
                Append(hash, Encoding.UTF8.GetBytes((string)namesAndValues[i]!));
                Append(hash, value);
            }
        }

        return hash.GetHashAndReset();
    }

    /// <summary>The seal of a row: it holds the seal before it, so that none can be taken out or put in unseen.</summary>
    public static byte[] Seal(byte[]? before, string table, string key, byte[] digest)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Append(hash, before ?? []);
        Append(hash, Encoding.UTF8.GetBytes(table));
        Append(hash, Encoding.UTF8.GetBytes(key));
        Append(hash, digest);
        return hash.GetHashAndReset();
    }

    /// <summary>Numbers by their value: SQLite keeps a whole REAL as an integer, and no negative zero.</summary>
    private static byte[]? Bytes(object? value) => value switch
    {
        null or DBNull => null,
        byte[] bytes => bytes,
        long or double => Number(Convert.ToDouble(value, CultureInfo.InvariantCulture)),
        string text => Encoding.UTF8.GetBytes(text),
        _ => throw new ArgumentException($"A column cannot hold a {value.GetType().Name}.", nameof(value)),
    };

    private static byte[] Number(double value)
    {
        var bytes = new byte[sizeof(double)];
        BinaryPrimitives.WriteDoubleBigEndian(bytes, value + 0.0);
        return bytes;
    }

    private static void Append(IncrementalHash hash, byte[] part)
    {
        var length = new byte[sizeof(int)];
        BinaryPrimitives.WriteInt32BigEndian(length, part.Length);
        hash.AppendData(length);
        hash.AppendData(part);
    }
}
