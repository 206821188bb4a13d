namespace Acquire.Storage.Files;

/// <summary>Explains a file that is not there, or that is something else, before SQLite says it in a word.</summary>
internal static class Presence
{
    /// <summary>Refuses what cannot be looked at.</summary>
    /// <exception cref="StoreException">There is no such file, it is a folder, or it has no bytes.</exception>
    public static void Require(string file)
    {
        RefuseFolder(file);
        if (!File.Exists(file))
        {
            throw new StoreException(StoreFault.CannotOpen, $"{file}: there is no such file.");
        }

        if (new FileInfo(file).Length == 0)
        {
            throw new StoreException(StoreFault.NotADatabase, $"{file}: the file has no bytes: there is no store in it.");
        }
    }

    /// <summary>
    /// Refuses to begin a new store where one was: SQLite would, and the write-ahead log that is left would be thrown away with the
    /// newest readings in it.
    /// </summary>
    /// <exception cref="StoreException">The database was moved, deleted or emptied.</exception>
    public static void RequireNotLost(string file)
    {
        RefuseFolder(file);
        if (File.Exists(file) && new FileInfo(file).Length > 0)
        {
            return;
        }

        var log = file + "-wal";
        if (File.Exists(log) && new FileInfo(log).Length > 0)
        {
            throw new StoreException(
                StoreFault.Lost,
                $"{file}: the database is {(File.Exists(file) ? "empty" : "not there")}, but its write-ahead log is ({log}). It was moved or deleted. "
                + "Put it back beside its log.");
        }

        if (Backups.BackupFolder.Of(Path.GetDirectoryName(file)!).Files.Count > 0)
        {
            throw new StoreException(
                StoreFault.Lost,
                $"{file}: the database is {(File.Exists(file) ? "empty" : "not there")}, but backups of it are. It was moved or deleted. "
                + "Put it back or restore a backup; to begin a new store, choose another data folder with --data DIR.");
        }
    }

    private static void RefuseFolder(string file)
    {
        if (Directory.Exists(file))
        {
            throw new StoreException(StoreFault.CannotOpen, $"{file}: this is a folder, where the database file should be. Move it away.");
        }
    }
}
