using System.Data;
using Acquire.Storage.Files;
using Dapper;
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

    /// <summary>
    /// Runs the scripts that the file lacks and seals what it brought with it, all in one transaction: cut off anywhere, the file is as it
    /// was. The caller has the store's lock alone.
    /// </summary>
    /// <exception cref="StoreException">A script failed; the file stays as it was.</exception>
    public async Task RunAsync(SqliteConnection connection, int version)
    {
        var backup = version == 0 ? null : await BackUpAsync(connection, version);
        RowSeals.AddFunctions(connection);

        // What is broken in the file is carried over as it is, for the seals and a look at the references to tell: refused here, a file
        // that lacks one row could not be opened at all any more.
        _ = connection.Execute("PRAGMA foreign_keys = OFF");
        using var transaction = connection.BeginTransaction();
        var db = new Db(connection, transaction);
        var unsealed = RowSeals.Unsealed(db);
        var result = Upgrade(connection, version);
        if (!result.Successful)
        {
            var kept = backup is null ? "" : $" The file as it was is in {backup}.";
            throw new StoreException(
                StoreFault.MigrationFailed,
                $"{file.Path}: the change to schema version {Newest} failed at {result.ErrorScript?.Name}: {result.Error.Message}{kept}",
                result.Error);
        }

        // In the same transaction: rows of the earlier version must never lie in the new one unsealed, or a change could pass for old. What
        // lay unsealed beside seals stays so: to seal it now would be to say that this program wrote it.
        _ = RowSeals.SealMissing(db, unsealed);
        transaction.Commit();
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
            .WithoutTransaction() // There is one around it, which the connection gives to every command.
            .WithVariablesDisabled()
            .LogToNowhere()
            .JournalTo(new UserVersionJournal(version, scripts));
        return builder.Build().PerformUpgrade();
    }

    private async Task<string> BackUpAsync(SqliteConnection connection, int version)
    {
        var now = time.GetUtcNow().UtcDateTime.ToString("yyyyMMdd'T'HHmmss'Z'", CultureInfo.InvariantCulture);
        var stem = Path.Combine(
            Path.GetDirectoryName(file.Path)!, string.Create(CultureInfo.InvariantCulture, $"acquire-before-upgrade-from-{version}-{now}"));
        var target = stem + ".db";
        for (var n = 2; File.Exists(target); n++)
        {
            target = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}.db");
        }

        await DatabaseCopy.MakeAsync(connection, target);
        return target;
    }
}

/// <summary>
/// Keeps which scripts have run in SQLite's own <c>user_version</c>, the number a script's name begins with. It changes in the script's own
/// transaction, so that a file never claims a version it does not have.
/// </summary>
internal sealed class UserVersionJournal(int version, IEnumerable<SqlScript> scripts) : IJournal
{
    public static int VersionOf(SqlScript script) => int.Parse(script.Name.AsSpan(0, 4), CultureInfo.InvariantCulture);

    public string[] GetExecutedScripts() => [.. scripts.Where(s => VersionOf(s) <= version).Select(s => s.Name)];

    public void StoreExecutedScript(SqlScript script, Func<IDbCommand> dbCommandFactory)
    {
        using var command = dbCommandFactory();
        command.CommandText = string.Create(CultureInfo.InvariantCulture, $"PRAGMA user_version = {VersionOf(script)}");
        _ = command.ExecuteNonQuery();
    }

    /// <summary>Nothing to make: the number is part of every SQLite file.</summary>
    public void EnsureTableExistsAndIsLatestVersion(Func<IDbCommand> dbCommandFactory)
    {
    }
}

/// <summary>The migration scripts that are built into the program, in order.</summary>
internal static class Scripts
{
    public static ImmutableArray<SqlScript> All { get; } = Load();

    private static ImmutableArray<SqlScript> Load()
    {
        var assembly = typeof(Scripts).Assembly;
        return
        [
            .. assembly.GetManifestResourceNames()
                .Where(n => n.EndsWith(".sql", StringComparison.Ordinal))
                .Order(StringComparer.Ordinal)
                .Select(n => SqlScript.FromStream(n, assembly.GetManifestResourceStream(n)!)),
        ];
    }
}
