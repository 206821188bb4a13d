using System.Collections.Concurrent;
using Acquire.Storage.Migrations;
using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Inspection;

/// <summary>What can be told of a file without making records of it.</summary>
internal static class FileChecks
{
    private const int MostOfAKind = 20;

    /// <summary>By schema version; kept, for many backups may be looked through in a row.</summary>
    private static readonly ConcurrentDictionary<int, Dictionary<string, string?>> Models = new();

    /// <summary>SQLite's own look through all pages, indexes and constraints.</summary>
    public static IEnumerable<StoreFinding> Structure(Db db) => db
        .Query<string>($"PRAGMA integrity_check({MostOfAKind})")
        .Where(r => r != "ok")
        .Select(r => new StoreFinding(StoreFindingKind.Damaged, r));

    /// <summary>Tables, views, indexes and triggers against those that the scripts make.</summary>
    public static IEnumerable<StoreFinding> Schema(Db db, int version)
    {
        var (expected, actual) = (Models.GetOrAdd(version, Model), Objects(db));
        return expected.Keys.Union(actual.Keys).Order(StringComparer.Ordinal)
            .Where(name => expected.GetValueOrDefault(name) != actual.GetValueOrDefault(name))
            .Select(name => new StoreFinding(StoreFindingKind.SchemaChanged, $"the {name} is not as this program makes it"));
    }

    /// <summary>Foreign keys.</summary>
    public static IEnumerable<StoreFinding> References(Db db) => db
        .Query<(string Table, long? Row, string Parent)>("SELECT \"table\", rowid, parent FROM pragma_foreign_key_check")
        .GroupBy(r => (r.Table, r.Parent))
        .Select(g => new StoreFinding(
            StoreFindingKind.BrokenReference, $"{g.Count()} row(s) of {g.Key.Table} refer to rows of {g.Key.Parent} that are not there"));

    /// <summary>Every view to its last row.</summary>
    public static IEnumerable<StoreFinding> Views(Db db) => db
        .Query<string>("SELECT name FROM sqlite_schema WHERE type = 'view' ORDER BY name")
        .SelectMany(view => Attempt.Of($"the view {view}", () =>
        {
            _ = db.Query<object>($"SELECT * FROM \"{view}\"");
            return [];
        }));

    public static IEnumerable<(string Table, long Rows)> Contents(Db db) =>
        SealedTable.In(db).Select(t => (t.Name, db.Scalar<long>($"SELECT count(*) FROM {t.Rows}")));

    /// <summary>The rows against their seals.</summary>
    public static IEnumerable<StoreFinding> Seals(SealCheck check) =>
    [
        .. Listed(check.Changed, StoreFindingKind.RowChanged, "is not as it was written"),
        .. Listed(check.Missing, StoreFindingKind.RowMissing, "was written and is gone"),
        .. check.Gaps ? [new StoreFinding(StoreFindingKind.RowMissing, "seals are gone from row_seal")] : Array.Empty<StoreFinding>(),
        .. check.Unsealed
            .GroupBy(r => r.Split(' ')[0])
            .Select(g => new StoreFinding(StoreFindingKind.NotSealed, $"{g.Count()} row(s) of {g.Key} have no seal, such as {g.First()}")),
    ];

    /// <summary>What the scripts make in an empty file.</summary>
    private static Dictionary<string, string?> Model(int version)
    {
        using var model = new SqliteConnection("Data Source=:memory:;Pooling=False");
        model.Open();
        foreach (var script in Scripts.All.Where(s => UserVersionJournal.VersionOf(s) <= version))
        {
            _ = model.Execute(script.Contents);
        }

        return Objects(new Db(model, null));
    }

    private static IEnumerable<StoreFinding> Listed(IReadOnlyList<string> rows, StoreFindingKind kind, string what)
    {
        var shown = rows.Take(MostOfAKind).Select(r => new StoreFinding(kind, $"the row {r} {what}"));
        return rows.Count > MostOfAKind ? shown.Append(new StoreFinding(kind, $"and {rows.Count - MostOfAKind} more of this kind")) : shown;
    }

    private static Dictionary<string, string?> Objects(Db db) => db
        .Query<(string Type, string Name, string? Sql)>(
            "SELECT type, name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite#_%' ESCAPE '#'")
        .ToDictionary(o => $"{o.Type} {o.Name}", o => o.Sql);
}

/// <summary>Reading what may be damaged: whatever goes wrong is a finding, and the look goes on with the next thing.</summary>
internal static class Attempt
{
    public static IReadOnlyList<StoreFinding> Of(string what, Func<IEnumerable<StoreFinding>> look)
    {
        try
        {
            return [.. look()];
        }
        catch (SqliteException e) when (e.SqliteErrorCode is 5 or 6)
        {
            // Another program's lock is no damage.
            throw;
        }
        catch (Exception e) when (e is not OperationCanceledException and not OutOfMemoryException)
        {
            var kind = e is SqliteException { SqliteErrorCode: 11 or 26 } ? StoreFindingKind.Damaged : StoreFindingKind.Unreadable;
            return [new StoreFinding(kind, $"{what} cannot be read: {e.Message}")];
        }
    }
}
