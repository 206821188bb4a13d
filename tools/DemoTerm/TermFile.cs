using System.IO.Compression;
using System.Text.Encodings.Web;
using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace DemoTerm;

/// <summary>
/// Writes every row of a store to a file of compressed JSON Lines, <c>{"table":{"column":value}}</c>, in the order in which the rows were
/// made: a row that another one refers to stands before it. What is null is left out, bytes are <c>{"base64":text}</c>, and seals are not
/// written, for the store that takes the rows seals them itself.
/// </summary>
internal static class TermFile
{
    private const string Record = "record";

    private static readonly JsonWriterOptions Plain = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes the rows of a database file to a stream that stays open.</summary>
    public static void Write(string database, Stream target)
    {
        using var connection =
            new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = database, Mode = SqliteOpenMode.ReadOnly }.ToString());
        connection.Open();
        var rows =
            Query(connection, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name <> 'row_seal'")
            .Select(t => (string)t["name"]!)
            .SelectMany(table => RowsOf(connection, table))
            .ToDictionary(r => (r.SealedAs, r.Key));
        using var compressed = new GZipStream(target, CompressionLevel.SmallestSize, leaveOpen: true);
        foreach (var seal in Query(connection, "SELECT table_name, row_key FROM row_seal ORDER BY sequence"))
        {
            using (var json = new Utf8JsonWriter(compressed, Plain))
            {
                var row = rows[((string)seal["table_name"]!, (string)seal["row_key"]!)];
                json.WriteStartObject();
                json.WriteStartObject(row.Table);
                foreach (var (column, value) in row.Values)
                {
                    Write(json, column, value);
                }

                json.WriteEndObject();
                json.WriteEndObject();
            }

            compressed.WriteByte((byte)'\n');
        }
    }

    private static void Write(Utf8JsonWriter json, string column, object? value)
    {
        switch (value)
        {
            case null:
                break;
            case long number:
                json.WriteNumber(column, number);
                break;
            case double number:
                json.WriteNumber(column, number);
                break;
            case byte[] bytes:
                json.WriteStartObject(column);
                json.WriteBase64String("base64", bytes);
                json.WriteEndObject();
                break;
            default:
                json.WriteString(column, (string)value);
                break;
        }
    }

    /// <summary>
    /// The rows of a table with the names and keys under which they are sealed: keys are JSON arrays of their primary keys. A table of
    /// reads has those of every kind of record, and a seal has the kind in its name.
    /// </summary>
    private static IEnumerable<(string Table, string SealedAs, string Key, Dictionary<string, object?> Values)> RowsOf(
        SqliteConnection connection, string table)
    {
        var columns = Query(connection, $"SELECT name, pk FROM pragma_table_info('{table}') ORDER BY cid");
        var all = columns.Select(c => (string)c["name"]!).ToList();
        var key = columns.Where(c => (long)c["pk"]! > 0).OrderBy(c => c["pk"]).Select(c => (string)c["name"]!).Where(c => c != Record);
        foreach (var row in Query(
            connection, $"SELECT json_array({string.Join(", ", key)}) AS \" key\", \"{string.Join("\", \"", all)}\" FROM \"{table}\""))
        {
            _ = row.Remove(" key", out var own);
            yield return (table, row.GetValueOrDefault(Record) is string kind ? kind + table[Record.Length..] : table, (string)own!, row);
        }
    }

    private static List<Dictionary<string, object?>> Query(SqliteConnection connection, string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = new List<Dictionary<string, object?>>();
        while (reader.Read())
        {
            rows.Add(
                Enumerable.Range(0, reader.FieldCount).ToDictionary(reader.GetName, i => reader.IsDBNull(i) ? null : reader.GetValue(i)));
        }

        return rows;
    }
}
