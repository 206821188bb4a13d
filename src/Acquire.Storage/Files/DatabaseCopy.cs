using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Files;

/// <summary>A proved copy of a database in use, by SQLite's online backup; copying the file would miss its write-ahead log.</summary>
internal static class DatabaseCopy
{
    /// <summary>
    /// Copies to a file that does not exist yet; it appears under its name only when it is whole and proved. Until then it has a name that
    /// no other copy has.
    /// </summary>
    /// <param name="prove">
    /// Looks the copy through before it gets its name, and throws what is wrong; null where its structure will do.
    /// </param>
    /// <exception cref="StoreException">The target exists or cannot be written, or the copy did not prove.</exception>
    public static async Task MakeAsync(SqliteConnection source, string target, Func<string, Task>? prove = null)
    {
        RefuseExisting(target);
        var partial = $"{target}.{Guid.NewGuid():N}.partial";
        try
        {
            UserOnly.Make(partial);
            Copy(source, partial);
            if (prove is not null)
            {
                await prove(partial);
            }

            RefuseExisting(target);
            File.Move(partial, target);
        }
        catch (Exception e) when (e is SqliteException or IOException or UnauthorizedAccessException)
        {
            throw StoreFaults.Translate(e, target);
        }
        finally
        {
            // A folder that is not there has no partial file either, and deleting in it would throw over the first error.
            if (File.Exists(partial))
            {
                File.Delete(partial);
            }
        }
    }

    private static void RefuseExisting(string target)
    {
        if (File.Exists(target))
        {
            throw new StoreException(
                StoreFault.Duplicate, $"{target}: there is such a file already; a backup never replaces one. Choose another name.");
        }
    }

    private static void Copy(SqliteConnection source, string partial)
    {
        using var copy = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = partial, Pooling = false }.ToString());
        copy.Open();
        source.BackupDatabase(copy);

        // A copy is one file: no write-ahead log beside it.
        _ = copy.ExecuteScalar<string>("PRAGMA journal_mode = DELETE");
        var finding = copy.ExecuteScalar<string>("PRAGMA integrity_check(1)");
        if (finding != "ok")
        {
            throw new StoreException(
                StoreFault.Damaged, $"{source.DataSource}: the backup is damaged, so the file is likely damaged too: {finding}");
        }
    }
}
