using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Files;

/// <summary>Explains a file that is not there, or that is something else, before SQLite says it in a word.</summary>
internal static class Presence
{
    /// <summary>What a backup that is being put in place ends with.</summary>
    public const string Restoring = ".restoring";

    /// <summary>What SQLite's smallest page has: a shorter file is no database, yet SQLite would begin one in it.</summary>
    private const int LeastBytes = 512;

    /// <summary>Files that are in the folder only where there was a store.</summary>
    private static readonly string[] LeftByAStore = ["acquire-set-aside-*.db", "acquire-before-upgrade-*.db"];

    /// <summary>Whether there is something under the name of the store that may be one.</summary>
    public static bool IsThere(string file) => new FileInfo(file) is { Exists: true, Length: >= LeastBytes };

    /// <summary>Refuses what cannot be looked at.</summary>
    /// <exception cref="StoreException">There is no such file, it is a folder, or it has no bytes.</exception>
    public static void Require(string file)
    {
        RefuseFolder(file);
        if (!File.Exists(file))
        {
            var cutOff = File.Exists(file + Restoring)
                ? " A restore was cut off here; any command that opens the store finishes it, such as: acquire strip list"
                : "";
            throw new StoreException(StoreFault.CannotOpen, $"{file}: there is no such file.{cutOff}");
        }

        if (!IsThere(file))
        {
            throw new StoreException(StoreFault.NotADatabase, $"{file}: {Bytes(file)}: there is no store in it.");
        }
    }

    /// <summary>
    /// Refuses to begin a new store where one was: SQLite would, and the write-ahead log that is left would be thrown away with the newest
    /// readings in it.
    /// </summary>
    /// <exception cref="StoreException">The database was moved, deleted or emptied.</exception>
    public static void RequireNotLost(string file)
    {
        RefuseFolder(file);
        if (IsThere(file))
        {
            return;
        }

        var (folder, state) = (Path.GetDirectoryName(file)!, File.Exists(file) ? "empty" : "not there");
        if (new FileInfo(file + "-wal") is { Exists: true, Length: > 0 } log)
        {
            throw new StoreException(
                StoreFault.Lost,
                $"{file}: the database is {state}, but its write-ahead log is ({log.FullName}). It was moved or deleted. "
                + "Put it back beside its log.");
        }

        if (Directory.Exists(Path.Combine(folder, "backups"))
            && Directory.EnumerateFiles(Path.Combine(folder, "backups"), "acquire-*.db").Any())
        {
            throw new StoreException(
                StoreFault.Lost,
                $"{file}: the database is {state}, but backups of it are. It was moved or deleted. "
                + "Put it back or restore a backup; to begin a new store, choose another data folder with --data DIR.");
        }

        if (LeftByAStore.SelectMany(pattern => Directory.EnumerateFiles(folder, pattern)).Order(StringComparer.Ordinal)
            .LastOrDefault() is { } earlier)
        {
            throw new StoreException(
                StoreFault.Lost,
                $"{file}: the database is {state}, but {earlier} is, which was the store before. "
                + $"Put it in place: acquire restore {earlier}; to begin a new store, choose another data folder with --data DIR.");
        }

        if (File.Exists(file))
        {
            throw new StoreException(
                StoreFault.NotADatabase,
                $"{file}: {Bytes(file)}: there is no store in it, and none is begun in its place. If nothing is missing, "
                + "delete it and try again.");
        }
    }

    private static string Bytes(string file) =>
        new FileInfo(file).Length is var bytes and not 1 ? $"the file has {(bytes == 0 ? "no" : bytes)} bytes" : "the file has 1 byte";

    private static void RefuseFolder(string file)
    {
        if (Directory.Exists(file))
        {
            throw new StoreException(StoreFault.CannotOpen, $"{file}: this is a folder, where the database file should be. Move it away.");
        }
    }
}

/// <summary>Tells our database from another program's, and an older one from a newer one, before anything is changed in it.</summary>
internal static class FileIdentity
{
    /// <summary>The application id in the file's header; the first migration sets it.</summary>
    public const long ApplicationId = 0x41435155;

    /// <summary>The schema version of the file, 0 for an empty one.</summary>
    /// <exception cref="StoreException">The file is another program's, or newer than <paramref name="newest"/>.</exception>
    public static int Check(SqliteConnection connection, string file, int newest)
    {
        var application = connection.ExecuteScalar<long>("PRAGMA application_id");
        var version = connection.ExecuteScalar<int>("PRAGMA user_version");
        var isEmpty = application == 0 && version == 0 && connection.ExecuteScalar<long>("SELECT count(*) FROM sqlite_schema") == 0;
        if (application != ApplicationId && !isEmpty)
        {
            throw new StoreException(
                StoreFault.NotOurs,
                $"{file}: this is another program's database. Move it away or choose another data folder with --data DIR.");
        }

        if (version > newest)
        {
            throw new StoreException(
                StoreFault.NewerFile,
                $"{file}: the file has schema version {version}, this program knows up to {newest}. "
                + "It was left as it is. Install the newer version of the program, or open a backup made before.");
        }

        return version;
    }
}
