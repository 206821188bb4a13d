using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Files;

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
