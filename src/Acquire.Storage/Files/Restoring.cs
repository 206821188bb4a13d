namespace Acquire.Storage.Files;

/// <summary>
/// Puts a backup in the place of a store. First a whole, proved copy lies ready on the same disk, then follow names only; where those are
/// cut off, whoever opens the store next finishes them.
/// </summary>
internal static class Restoring
{
    /// <summary>Restores a backup. The caller has the store's lock alone.</summary>
    /// <param name="backup">The backup, which stays; any store file will do.</param>
    /// <param name="target">The store's file.</param>
    /// <param name="now">For the name that the old file gets.</param>
    /// <param name="prove">Looks the copy through before anything is replaced.</param>
    /// <returns>Where the old file is now; null when there was none.</returns>
    public static async Task<string?> ReplaceAsync(string backup, string target, DateTimeOffset now, Func<string, Task> prove)
    {
        _ = Finish(target);
        var ready = target + Presence.Restoring;
        using (var source = new StoreFile(backup).OpenForReading())
        {
            await DatabaseCopy.MakeAsync(source, ready, prove);
        }

        try
        {
            var aside = SetAside(target, AsideName(target, now));
            File.Move(ready, target);
            return aside;
        }
        catch when (File.Exists(target))
        {
            File.Delete(ready);
            throw;
        }
    }

    public static bool IsCutOff(string target) => File.Exists(target + Presence.Restoring);

    /// <summary>
    /// Ends what a restore that was cut off began: takes the copy away where the store is still in its place, else puts the copy there. The
    /// caller has the store's lock alone.
    /// </summary>
    public static bool Finish(string target)
    {
        var ready = target + Presence.Restoring;
        if (!File.Exists(ready))
        {
            return false;
        }

        if (File.Exists(target))
        {
            File.Delete(ready);
            return true;
        }

        // Cut off behind the first rename, the log still lies here; it belongs to the file set aside last.
        if (Directory.EnumerateFiles(Path.GetDirectoryName(target)!, "acquire-set-aside-*.db").Order(StringComparer.Ordinal)
            .LastOrDefault() is { } aside)
        {
            _ = SetAside(target, aside);
        }

        File.Move(ready, target);
        return true;
    }

    /// <summary>
    /// Renames the old file and its log alike, so that they still belong together; opening them first might throw the log of a damaged file
    /// away. The file goes first, for without it nobody reads the log. A log must never stay: SQLite would read it into the new file.
    /// </summary>
    private static string? SetAside(string target, string aside)
    {
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

    private static string AsideName(string target, DateTimeOffset now)
    {
        var stem = Path.Combine(
            Path.GetDirectoryName(target)!,
            $"acquire-set-aside-{now.UtcDateTime.ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture)}");
        var aside = stem + ".db";
        for (var n = 2; File.Exists(aside); n++)
        {
            aside = string.Create(CultureInfo.InvariantCulture, $"{stem}-{n}.db");
        }

        return aside;
    }
}
