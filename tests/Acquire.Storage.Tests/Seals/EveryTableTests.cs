using System.Text.RegularExpressions;
using Acquire.Storage.Rows;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Tests.Seals;

/// <summary>
/// A value of a row is changed, in every table: whoever then shows, judges or exports what the store holds is told, with the name of the
/// row. Changed is every column by which rows find each other, and one of the others, for seals hold those all alike.
/// </summary>
[Trait("speed", "slow")]
public sealed partial class EveryTableTests : StoreFixture
{
    [Fact]
    public async Task Value_that_was_changed_in_any_table_is_told_with_its_row()
    {
        await Filled.FillAsync(Store, Token);
        Assert.Empty(await Everything.LoadAsync(Store, Token));
        await Store.DisposeAsync();
        var silent = new List<string>();
        var changed = 0;
        var columns = Columns();
        DropTriggers();
        foreach (var (table, column) in columns)
        {
            using var copy = new TempFolder();
            File.Copy(Folder.Database, copy.Database);
            if (!Change(copy.Database, table, column))
            {
                continue;
            }

            changed++;
            await using var store = await AcquireStore.OpenAsync(copy.Path, Time, Token);
            var said = await Everything.LoadAsync(store, Token);
            if (!said.Any(s => s.Contains($"the row {table.Name} [", StringComparison.Ordinal)))
            {
                silent.Add($"{table.Name}.{column.Name}: {string.Join(" / ", said)}");
            }
        }

        Assert.True(silent.Count == 0, $"{silent.Count} of {changed}:\n{string.Join('\n', silent)}");
        Assert.True(changed > 150, $"only {changed} columns had a value");
    }

    private List<(SealedTable Table, SealedTable.Column Column)> Columns()
    {
        using var connection = new SqliteConnection($"Data Source={Folder.Database};Mode=ReadOnly;Pooling=False");
        connection.Open();
        return
        [
            .. from table in SealedTable.In(new Db(connection, null))
               let ties = table.Columns.Where(c => c.KeyPosition > 0 || Tie().IsMatch(c.Name))
               from column in ties.Concat(table.Columns.Except(ties).Take(1))
               select (table, column),
        ];
    }

    /// <summary>They would refuse the change, or seal it.</summary>
    private void DropTriggers()
    {
        using var connection = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        connection.Open();
        var triggers = connection.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'trigger'");
        _ = connection.Execute(string.Concat(triggers.Select(t => $"DROP TRIGGER {t};")));
        _ = connection.Execute("PRAGMA wal_checkpoint(TRUNCATE)");
    }

    /// <summary>Changes the first value that there is, and can be changed; false when there is none.</summary>
    private static bool Change(string file, SealedTable table, SealedTable.Column changed)
    {
        using var connection = new SqliteConnection($"Data Source={file};Pooling=False;Foreign Keys=False");
        connection.Open();
        var column = changed.Name;
        var other = changed.Type switch
        {
            "TEXT" => $"substr({column}, 1, length({column}) - 1) || iif(substr({column}, -1) = '1', '2', '1')",
            "BLOB" => "x'00'",
            _ => $"{column} + 1",
        };
        var key = string.Join(" || ' ' || ", table.Columns.Where(c => c.KeyPosition > 0).Select(c => c.Name));
        var of = table.Of is null ? "" : $"record = '{table.Of}' AND ";
        var rows = connection.Query<string>(
            $"SELECT {key} FROM {table.Rows} WHERE {column} IS NOT NULL ORDER BY {key} DESC").AsList();
        _ = connection.Execute("PRAGMA ignore_check_constraints = ON");
        return rows.Any(row => connection.Execute(
            $"UPDATE OR IGNORE {table.Source} SET {column} = {other} WHERE {of}{key} = @row", new { row }) == 1);
    }

    [GeneratedRegex("_(id|code|hash|name|of)$|^(id|kind|hash|sequence)$")]
    private static partial Regex Tie();
}
