using Acquire.Storage.Files;
using DbUp.Builder;
using DbUp.Engine;
using DbUp.Sqlite;
using DbUp.Sqlite.Helpers;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Migrations;

/// <summary>Brings a file to the newest schema version, with a backup first.</summary>
internal sealed class Migrator(StoreFile file, ImmutableArray<SqlScript> scripts, TimeProvider time)
{
    public int Newest => UserVersionJournal.VersionOf(scripts[^1]);

    /// <summary>Runs the scripts that the file lacks, each in a transaction of its own.</summary>
    /// <exception cref="StoreException">A script failed; the file stays at the last version that worked.</exception>
    public void Run(SqliteConnection connection, int version)
    {
        if (version == Newest)
        {
            return;
        }

        var backup = version == 0 ? null : BackUp(connection, version);
        var result = Upgrade(connection, version);
        if (!result.Successful)
        {
            var kept = backup is null ? "" : $" The file as it was is in {backup}.";
            throw new StoreException(
                StoreFault.MigrationFailed,
                $"{file.Path}: the change to schema version {Newest} failed at {result.ErrorScript?.Name}: {result.Error.Message}{kept}",
                result.Error);
        }
    }

    private DatabaseUpgradeResult Upgrade(SqliteConnection connection, int version)
    {
        using var shared = new SharedConnection(connection);
        var builder = new UpgradeEngineBuilder();
        builder.Configure(c => c.ConnectionManager = new SqliteConnectionManager(shared));
        builder.Configure(c => c.ScriptExecutor = new SqliteScriptExecutor(
            () => c.ConnectionManager, () => c.Log, null, () => c.VariablesEnabled, c.ScriptPreprocessors, () => c.Journal));
        builder = builder
            .WithScripts(scripts)
            .WithTransactionPerScript()
            .WithVariablesDisabled()
            .LogToNowhere()
            .JournalTo(new UserVersionJournal(version, scripts));
        return builder.Build().PerformUpgrade();
    }

    private string BackUp(SqliteConnection connection, int version)
    {
        var now = time.GetUtcNow().UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        var stem = Path.Combine(
            Path.GetDirectoryName(file.Path)!, string.Create(CultureInfo.InvariantCulture, $"acquire-before-upgrade-from-{version}-{now}"));
        var target = stem + ".db";
        for (var n = 2; File.Exists(target); n++)
        {
            target = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}.db");
        }

        DatabaseCopy.Make(connection, target);
        return target;
    }
}
