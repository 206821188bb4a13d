using System.Text.RegularExpressions;
using Acquire.Storage.Import.Strips;
using Acquire.Storage.Tests.Support;

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
        var loose = await Store.WriteAsync(db => db.Query<string>("SELECT name FROM pragma_table_list WHERE type = 'table' AND NOT strict"), Token);

        Assert.All(loose, name => Assert.StartsWith("sqlite_", name, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Schema_every_table_refuses_update_delete_and_replacement()
    {
        await FillAsync();
        var tables = await Store.WriteAsync(
            db => db.Query<string>("SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"), Token);
        Assert.Equal(36, tables.Count);

        foreach (var table in tables)
        {
            Assert.True(await Store.WriteAsync(db => db.Scalar<long>($"SELECT count(*) FROM {table}") > 0, Token), $"{table} is empty, so nothing is proved");
            var column = await Store.WriteAsync(db => db.Scalar<string>($"SELECT name FROM pragma_table_info('{table}') LIMIT 1"), Token);
            foreach (var sql in (string[])[$"UPDATE {table} SET {column} = {column}", $"DELETE FROM {table}", $"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"])
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
        await FillAsync();
        var queries = SqlBlock().Matches(Document).Select(m => m.Groups[1].Value).ToList();

        Assert.Equal(4, queries.Count);
        foreach (var query in queries)
        {
            Assert.NotEmpty(await Store.WriteAsync(db => db.Query<object>(query), Token));
        }
    }

    /// <summary>A row in every table.</summary>
    private async Task FillAsync()
    {
        await Store.AddLotAsync(Some.Lot, Token);
        var session = Some.Session();
        await Store.BeginSessionAsync(session, Token);
        await Store.AppendLineAsync(session.Id, Some.Line(1, "???", Domain.Sessions.LineMeaning.Unmatched), Token);
        await Store.EndSessionAsync(session.Id, new(Domain.Sessions.SessionOutcome.Completed, Some.Evening, "done"), Token);
        var reference = Some.Reference();
        await Store.AddReferenceAsync(reference, Token);
        var strip = Some.Strip();
        await Store.AddStripAsync(strip with { ReferenceId = reference.Id }, Token);
        await Store.AddStripAsync(Some.Strip(strip.Id, 2), Token);
        await Store.AddPlaqueAsync(Some.Plaque, Token);
        await Store.AddCheckAsync(Some.Check(), Token);
        var test = Some.Test();
        await Store.AddRepeatabilityTestAsync(test, Token);
        var resting = new Domain.Trust.RepeatabilityInForce(test.Id, [new(Domain.Densitometry.Channel.Red, 0.006, 27)]);
        await Store.AddStripAsync(Some.Strip(strip.Id, 3) with { Repeatability = resting }, Token);
        await Store.AddRecheckAsync(Some.Recheck(), Token);
        var elsewhere = Some.Strip();
        var incoming = new IncomingStrip(new FileSpot("strips.jsonl", 1), elsewhere.Id.ToString(), _ => elsewhere) { IsWhole = true };
        await Store.ImportStripsAsync(
            new[] { incoming }.ToAsyncEnumerable(), new ImportSource("strips.jsonl", new string('a', 64)), _ => { }, () => true, Token);
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

        var end = bold >= 0 ? Document.IndexOf("\n\n", Document.IndexOf("| ---", start, StringComparison.Ordinal), StringComparison.Ordinal) : Document.IndexOf('\n', start);
        return Document[start..end].Contains($"`{column}`", StringComparison.Ordinal);
    }

    [GeneratedRegex("```sql\n(.*?)```", RegexOptions.Singleline)]
    private static partial Regex SqlBlock();
}
