using Acquire.Storage.Migrations;
using Acquire.Storage.Tests.Support;
using Dapper;
using DbUp.Engine;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Storage.Tests.Migrations;

public sealed class MigratorTests : IDisposable
{
    private readonly TempFolder _folder = new();
    private readonly FakeTimeProvider _time = new(Some.Evening);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string[] Backups => [.. Directory.EnumerateFiles(_folder.Path, "acquire-before-upgrade-*").Order(StringComparer.Ordinal)];

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Scripts_count_from_1_without_gap() =>
        Assert.Equal(Enumerable.Range(1, Scripts.All.Length), Scripts.All.Select(UserVersionJournal.VersionOf));

    [Fact]
    public async Task Migrate_earlier_file_keeps_its_content_and_a_backup()
    {
        await using (var old = await OpenAsync([.. Scripts.All.Take(1)]))
        {
            await old.AddLotAsync(Some.Lot, Token);
        }

        await using var store = await OpenAsync([.. Scripts.All]);

        Deep.Equal(Some.Lot, await store.FindLotAsync(Some.Lot.Code, Token));
        await store.AddStripAsync(Some.Strip(), Token);
        var backup = Assert.Single(Backups);
        Assert.EndsWith("acquire-before-upgrade-from-1-20260312T183000Z.db", backup, StringComparison.Ordinal);
        Assert.Equal(1, Version(backup));
    }

    [Fact]
    public async Task Migrate_new_file_makes_no_backup()
    {
        await (await OpenAsync([.. Scripts.All])).DisposeAsync();
        await (await OpenAsync([.. Scripts.All])).DisposeAsync();

        Assert.Empty(Backups);
    }

    [Fact]
    public async Task Migrate_script_that_fails_changes_nothing_and_names_script_and_backup()
    {
        await (await OpenAsync([.. Scripts.All.Take(1)])).DisposeAsync();
        SqlScript bad = new("0002_bad.sql", "CREATE TABLE half (a); INSERT INTO nowhere VALUES (1);");

        var error = await Assert.ThrowsAsync<StoreException>(() => OpenAsync([Scripts.All[0], bad]));

        Assert.Equal(StoreFault.MigrationFailed, error.Fault);
        Assert.Contains("0002_bad.sql", error.Message, StringComparison.Ordinal);
        Assert.Contains(Assert.Single(Backups), error.Message, StringComparison.Ordinal);
        Assert.Equal(1, Version(_folder.Database));
        using var connection = new SqliteConnection($"Data Source={_folder.Database};Pooling=False");
        Assert.Equal(0, connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema WHERE name = 'half'"));
    }

    private Task<AcquireStore> OpenAsync(SqlScript[] scripts) => AcquireStore.OpenAsync(_folder.Path, _time, [.. scripts], 1, Token);

    private static long Version(string file)
    {
        using var connection = new SqliteConnection($"Data Source={file};Mode=ReadOnly;Pooling=False");
        return connection.ExecuteScalar<long>("PRAGMA user_version");
    }
}
