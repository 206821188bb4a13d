using Acquire.Storage.Files;
using DbUp.Engine;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Migrations;

/// <summary>Opens the store of a folder; makes it, brings it to this version or finishes a restore first where that is due.</summary>
/// <param name="folder">The data folder, which is there.</param>
/// <param name="lockWait">
/// How long to wait for another program's lock on the rows, in seconds; three times as long for the one on the file.
/// </param>
internal sealed class StoreOpening(string folder, ImmutableArray<SqlScript> scripts, int lockWait, TimeProvider time)
{
    private const string Making = ".making";

    public StoreFile File { get; } = new(Path.Combine(folder, StoreFile.Name), lockWait);

    /// <summary>The lock shared with all that use the store, and a connection to write with, which does not seal yet.</summary>
    /// <exception cref="StoreException">The file cannot be used; it is left as it is.</exception>
    public async Task<(FileStream InUse, SqliteConnection Connection)> OpenAsync(CancellationToken cancellationToken)
    {
        for (var left = TimeSpan.FromSeconds(3 * lockWait); ; left -= StoreLock.Step)
        {
            // Shared first: most openings find all ready, and two programs then never wait for one another.
            if (StoreLock.Use(folder) is { } inUse)
            {
                try
                {
                    if (IsReady())
                    {
                        return (inUse, File.OpenForWriting());
                    }
                }
                catch
                {
                    await inUse.DisposeAsync();
                    throw;
                }

                // Of several that find this, one does it; the others find it done.
                await inUse.DisposeAsync();
                await using var alone = StoreLock.Alone(folder);
                if (alone is not null)
                {
                    await PrepareAsync();
                    continue;
                }
            }

            if (left <= TimeSpan.Zero)
            {
                throw StoreLock.InUse(folder);
            }

            // The other holder is another process, so it is the real clock that counts, as it is for SQLite's own locks.
            await Task.Delay(StoreLock.Step, TimeProvider.System, cancellationToken);
        }
    }

    private bool IsReady()
    {
        if (Restoring.IsCutOff(File.Path) || !Presence.IsThere(File.Path))
        {
            return false;
        }

        using var connection = File.OpenForReading();
        return FileIdentity.Check(connection, File.Path, Newest) == Newest;
    }

    private int Newest => UserVersionJournal.VersionOf(scripts[^1]);

    private async Task PrepareAsync()
    {
        _ = Restoring.Finish(File.Path);
        Presence.RequireNotLost(File.Path);
        if (!Presence.IsThere(File.Path))
        {
            await MakeAsync();
            return;
        }

        using var connection = File.Open(SqliteOpenMode.ReadWrite);
        if (FileIdentity.Check(connection, File.Path, Newest) is var version && version < Newest)
        {
            await new Migrator(File, scripts, time).RunAsync(connection, version);
        }
    }

    /// <summary>Makes the store under another name first, so that there is never half a store under its own.</summary>
    private async Task MakeAsync()
    {
        var made = new StoreFile(File.Path + Making, lockWait);
        System.IO.File.Delete(made.Path);
        System.IO.File.Delete(made.Path + "-journal");
        UserOnly.Make(made.Path);
        using (var connection = made.Open(SqliteOpenMode.ReadWrite))
        {
            await new Migrator(made, scripts, time).RunAsync(connection, 0);
        }

        System.IO.File.Move(made.Path, File.Path);
    }
}
