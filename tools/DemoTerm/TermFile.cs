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
            .ToDictionary(r => (r.Table, r.Key), r => r.Values);
        using var compressed = new GZipStream(target, CompressionLevel.SmallestSize, leaveOpen: true);
        foreach (var seal in Query(connection, "SELECT table_name, row_key FROM row_seal ORDER BY sequence"))
        {
            using (var json = new Utf8JsonWriter(compressed, Plain))
            {
                var table = (string)seal["table_name"]!;
                json.WriteStartObject();
                json.WriteStartObject(table);
                foreach (var (column, value) in rows[(table, (string)seal["row_key"]!)])
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

    /// <summary>The rows of a table with the keys under which they are sealed: JSON arrays of their primary keys.</summary>
    private static IEnumerable<(string Table, string Key, Dictionary<string, object?> Values)> RowsOf(
        SqliteConnection connection, string table)
    {
        var key =
            Query(connection, $"SELECT name FROM pragma_table_info('{table}') WHERE pk > 0 ORDER BY pk").Select(c => $"\"{c["name"]}\"");
        foreach (var row in Query(connection, $"SELECT json_array({string.Join(", ", key)}) AS \" key\", * FROM \"{table}\""))
        {
            _ = row.Remove(" key", out var own);
            yield return (table, (string)own!, row);
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
