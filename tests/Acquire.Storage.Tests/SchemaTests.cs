using System.Text.RegularExpressions;

namespace Acquire.Storage.Tests;

public sealed partial class SchemaTests : StoreFixture
{
    private static readonly string Document = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "SCHEMA.md"));

    [Fact]
    public async Task Schema_every_table_and_column_is_documented()
    {
        var names = await Store.WriteAsync(
            db => db.Query<(string Table, string Column)>(
                "SELECT t.name, c.name FROM sqlite_schema AS t, pragma_table_info(t.name) AS c WHERE t.type IN ('table', 'view')"),
            Token);

        Assert.True(names.Count > 100);
        Assert.All(names, n => Assert.True(IsDocumented(n.Table, n.Column), $"{n.Table}.{n.Column} is not in SCHEMA.md"));
    }

    [Fact]
    public async Task Schema_every_table_is_strict()
    {
        var loose =
            await Store.WriteAsync(db => db.Query<string>("SELECT name FROM pragma_table_list WHERE type = 'table' AND NOT strict"), Token);

        Assert.All(loose, name => Assert.StartsWith("sqlite_", name, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Schema_every_table_refuses_update_delete_and_replacement()
    {
        await Filled.FillAsync(Store, Token);
        var tables = await Store.WriteAsync(
            db => db.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"), Token);
        Assert.Equal(53, tables.Count);

        foreach (var table in tables)
        {
            Assert.True(
                await Store.WriteAsync(db => db.Scalar<long>($"SELECT count(*) FROM {table}") > 0, Token),
                $"{table} is empty, so nothing is proved");
            var all = await Store.WriteAsync(db => db.Query<string>($"SELECT name FROM pragma_table_info('{table}')"), Token);
            var (column, columns) = (all[0], string.Join(", ", all));
            foreach (var sql in (string[])[
                $"UPDATE {table} SET {column} = {column}",
                $"DELETE FROM {table}",
                $"INSERT OR REPLACE INTO {table} ({columns}) SELECT {columns} FROM {table}"])
            {
                var error = await Assert.ThrowsAsync<StoreException>(() => Store.WriteAsync(db => db.Execute(sql), Token));
                Assert.Equal(StoreFault.Refused, error.Fault);
                Assert.Contains("append-only", error.Message, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public async Task Document_every_example_query_runs()
    {
        await Filled.FillAsync(Store, Token);
        var queries = SqlBlock().Matches(Document).Select(m => m.Groups[1].Value).ToList();

        Assert.Equal(5, queries.Count);
        foreach (var query in queries)
        {
            Assert.NotEmpty(await Store.WriteAsync(db => db.Query<object>(query), Token));
        }
    }

    /// <summary>A column must be named in the section that begins with its table's name.</summary>
    private static bool IsDocumented(string table, string column)
    {
        var bold = Document.IndexOf($"**`{table}`**", StringComparison.Ordinal);
        var start = bold >= 0 ? bold : Document.IndexOf($"| `{table}`:", StringComparison.Ordinal);
        if (start < 0)
        {
            return false;
        }

        var end = bold >= 0
            ? Document.IndexOf("\n\n", Document.IndexOf("| ---", start, StringComparison.Ordinal), StringComparison.Ordinal)
            : Document.IndexOf('\n', start);
        return Document[start..end].Contains($"`{column}`", StringComparison.Ordinal);
    }

    [GeneratedRegex("```sql\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex SqlBlock();
}
