using System.Text;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Support;

/// <summary>A database file as another program has it.</summary>
internal static class RawFile
{
    /// <summary>Changes a file behind the program's back, with its triggers out of the way; they are put back as they were.</summary>
    public static void Tamper(string file, string sql)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False;Foreign Keys=False");
        connection.Open();
        var triggers = connection.Query<(string Name, string Sql)>("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").AsList();
        triggers.ForEach(t => connection.Execute($"DROP TRIGGER {t.Name}"));
        Assert.NotEqual(0, connection.Execute(sql));
        triggers.ForEach(t => connection.Execute(t.Sql));
    }

    /// <summary>Every row of every table that the program fills, as text.</summary>
    public static string Dump(string file)
    {
        using var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False");
        connection.Open();
        var text = new StringBuilder();
        var tables = connection.Query<string>(
            "SELECT name FROM sqlite_schema WHERE type IN ('table', 'view') AND name NOT LIKE 'sqlite_%' ORDER BY name");
        foreach (var table in tables)
        {
            Append(text, connection, table);
        }

        return text.ToString();
    }

    private static void Append(StringBuilder text, SqliteConnection connection, string table)
    {
        _ = text.Append(table).Append('\n');
        var rows = new List<string>();
        foreach (IDictionary<string, object?> row in connection.Query($"SELECT * FROM \"{table}\"").Cast<IDictionary<string, object?>>())
        {
            rows.Add(string.Join('|', row.Select(c => c.Key + "="
                + (c.Value is byte[] bytes ? Convert.ToHexString(bytes) : Convert.ToString(c.Value, CultureInfo.InvariantCulture)))));
        }

        rows.Sort(StringComparer.Ordinal);
        rows.ForEach(r => text.Append(r).Append('\n'));
    }
}
