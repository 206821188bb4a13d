using Acquire.Storage.Files;

namespace Acquire.Storage.Backups;

/// <summary>Puts a backup in the place of a store.</summary>
public static class Restoring
{
    /// <summary>
    /// Restores a backup that the caller has found sound. The file that is there is kept beside it under another name, and the backup
    /// itself stays. At every moment of it there is either the old file, or none with a name that says where it is, or the new one whole.
    /// </summary>
    /// <param name="backup">The backup; any store file will do.</param>
    /// <param name="dataFolder">The data folder.</param>
    /// <param name="time">The clock, for the name that the old file gets.</param>
    /// <param name="cancellationToken">Cancels before the change has begun.</param>
    /// <returns>Where the old file is now; null when there was none.</returns>
    /// <exception cref="StoreException">A program has the store open, or a file cannot be written; then the old file is where it was.</exception>
    public static Task<string?> RestoreAsync(string backup, string dataFolder, TimeProvider time, CancellationToken cancellationToken) => Task.Run(
        () =>
        {
            var folder = DataFolder.Prepare(dataFolder);
            var target = Path.Combine(folder, StoreFile.Name);
            try
            {
                using var alone = StoreLock.Alone(folder);
                return Replace(Path.GetFullPath(backup), target, time.GetUtcNow());
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, target);
            }
        },
        cancellationToken);

    private static string? Replace(string backup, string target, DateTimeOffset now)
    {
        // First the whole copy on the same disk, proved, so that what follows is names only.
        var ready = target + ".restoring";
        File.Delete(ready);
        using (var source = new StoreFile(backup).OpenForReading())
        {
            DatabaseCopy.Make(source, ready);
        }

        try
        {
            var aside = SetAside(target, now);
            File.Move(ready, target);
            return aside;
        }
        catch
        {
            File.Delete(ready);
            throw;
        }
    }

    /// <summary>
    /// Renames the old file and its log alike, so that they still belong together; opening them first might throw the log of a damaged file
    /// away. A log must never stay: SQLite would read it into the new file.
    /// </summary>
    private static string? SetAside(string target, DateTimeOffset now)
    {
        var stem = Path.Combine(
            Path.GetDirectoryName(target)!, $"acquire-set-aside-{now.UtcDateTime.ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture)}");
        var aside = stem + ".db";
        for (var n = 2; File.Exists(aside); n++)
        {
            aside = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}.db");
        }

        var was = File.Exists(target);
        foreach (var ending in (string[])["", "-wal", "-shm"])
        {
            if (File.Exists(target + ending))
            {
                File.Move(target + ending, aside + ending);
            }
        }

        return was ? aside : null;
    }
}
