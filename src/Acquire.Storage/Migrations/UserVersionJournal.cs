using System.Data;
using DbUp.Engine;

namespace Acquire.Storage.Migrations;

/// <summary>
/// Keeps which scripts have run in SQLite's own <c>user_version</c>, the number a script's name begins with. It changes in the
/// script's own transaction, so that a file never claims a version it does not have.
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
