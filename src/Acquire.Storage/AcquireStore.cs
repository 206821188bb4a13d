using System.Runtime.ExceptionServices;
using Acquire.Storage.Backups;
using Acquire.Storage.Files;
using Acquire.Storage.Migrations;
using Acquire.Storage.Seals;
using Acquire.Storage.Writing;
using DbUp.Engine;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage;

/// <summary>
/// The store: one SQLite file, <c>acquire.db</c>, in the user's data folder. Records are append-only. A write is one transaction, and its
/// task ends after the commit, which a power cut does not undo. All members may be called from any thread at any time.
/// </summary>
/// <remarks>
/// Every member that reads or writes throws <see cref="StoreException"/> when it cannot. A write that was cancelled has written nothing.
/// The tables are explained in <c>SCHEMA.md</c>.
/// </remarks>
public sealed partial class AcquireStore : IAsyncDisposable
{
    private readonly StoreFile _file;
    private readonly StoreReader _reader;
    private readonly StoreWriter _writer;
    private readonly FileStream _inUse;
    private readonly TimeProvider _time;
    private volatile bool _closed;

    private AcquireStore(StoreFile file, SqliteConnection connection, FileStream inUse, TimeProvider time)
    {
        (_file, _inUse, _time) = (file, inUse, time);
        _reader = new StoreReader(file);
        _writer = new StoreWriter(file, connection);
    }

    /// <summary>Full path of the database file.</summary>
    public string FilePath => _file.Path;

    /// <summary>
    /// Opens the store, and makes folder and file where they are not there. A file of an earlier version is brought to this one after a
    /// backup was made beside it.
    /// </summary>
    /// <exception cref="StoreException">
    /// The folder or file cannot be used, or is another program's, or a newer version's, or damaged; it is left as it is.
    /// </exception>
    public static Task<AcquireStore> OpenAsync(string dataFolder, TimeProvider time, CancellationToken cancellationToken) =>
        OpenAsync(dataFolder, time, Scripts.All, StoreFile.DefaultLockWait, cancellationToken);

    /// <summary>Finishes the writes that were asked for, then closes the file.</summary>
    public async ValueTask DisposeAsync()
    {
        _closed = true;
        await _writer.DisposeAsync();
        await _inUse.DisposeAsync();
    }

    /// <summary>Makes a verified copy of the whole store in one new file, while the store stays in use.</summary>
    /// <param name="target">A file that does not exist.</param>
    /// <param name="cancellationToken">Cancels before the copy has begun.</param>
    public Task BackUpAsync(string target, CancellationToken cancellationToken) => Task.Run(
        () =>
        {
            try
            {
                using var source = _file.OpenForReading();
                DatabaseCopy.Make(source, Path.GetFullPath(target));
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, _file.Path);
            }
        },
        cancellationToken);

    /// <summary>
    /// Makes a verified copy under a name of its own in the folder <c>backups</c>, and deletes the backups there that need not be kept.
    /// </summary>
    /// <returns>The new file, and those that were deleted.</returns>
    public async Task<(string Made, ImmutableArray<string> Removed)> BackUpAsync(CancellationToken cancellationToken)
    {
        var dataFolder = Path.GetDirectoryName(FilePath)!;
        try
        {
            var now = _time.GetUtcNow();
            var folder = BackupFolder.Of(dataFolder);
            _ = DataFolder.Prepare(folder.Path);
            var made = folder.NameAt(now);
            await BackUpAsync(made, cancellationToken);
            return (made, BackupFolder.Of(dataFolder).Prune(now));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StoreFaults.Translate(e, dataFolder);
        }
    }

    /// <summary>Seals the rows that have no seal, as they are now, and gives their number.</summary>
    public Task<long> SealAsync(CancellationToken cancellationToken) => WriteAsync(RowSeals.SealMissing, cancellationToken);

    /// <summary>Opens with a choice of scripts, so that tests can make files of earlier versions.</summary>
    internal static Task<AcquireStore> OpenAsync(
        string dataFolder, TimeProvider time, ImmutableArray<SqlScript> scripts, int lockWait, CancellationToken cancellationToken) => Task.Run(
        () =>
        {
            var folder = DataFolder.Prepare(dataFolder);
            var file = new StoreFile(Path.Combine(folder, StoreFile.Name), lockWait);
            FileStream? inUse = null;
            try
            {
                inUse = StoreLock.Use(folder);
                Presence.RequireNotLost(file.Path);
                return new AcquireStore(file, Opened(file, new Migrator(file, scripts, time)), inUse, time);
            }
            catch (Exception e)
            {
                inUse?.Dispose();
                throw StoreFaults.Translate(e, file.Path);
            }
        },
        cancellationToken);

    /// <summary>
    /// Reads, decides and writes in one transaction; no other program writes between the first and the last. What the work throws of its own
    /// comes out as it is, and nothing is written then.
    /// </summary>
    /// <param name="work">Runs on the writer's thread, once. Other writes wait for it, so it asks nobody and waits for nothing.</param>
    /// <param name="cancellationToken">Cancels before it has begun.</param>
    public async Task<T> InTransactionAsync<T>(Func<StoreTransaction, T> work, CancellationToken cancellationToken)
    {
        ExceptionDispatchInfo? own = null;
        try
        {
            return await WriteAsync(
                db =>
                {
                    try
                    {
                        return work(new StoreTransaction(db, FilePath, _time.GetUtcNow()));
                    }
                    catch (Exception e) when (e is not StoreException)
                    {
                        own = ExceptionDispatchInfo.Capture(e);
                        throw;
                    }
                },
                cancellationToken);
        }
        catch (Exception) when (own is not null)
        {
            own.Throw();
            throw;
        }
    }

    /// <summary>A write of any kind, for the members and for tests.</summary>
    internal Task<T> WriteAsync<T>(Func<Db, T> work, CancellationToken cancellationToken) => _writer.WriteAsync(work, cancellationToken);

    private static SqliteConnection Opened(StoreFile file, Migrator migrator)
    {
        var connection = file.Create();
        try
        {
            var version = FileIdentity.Check(connection, file.Path, migrator.Newest);
            file.RequireWriteAheadLog(connection);
            migrator.Run(connection, version);
            RowSeals.Attach(connection);
            if (version > 0 && version < migrator.Newest)
            {
                RowSeals.SealUpgraded(connection);
            }

            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private Task<bool> WriteAsync(Action<Db> work, CancellationToken cancellationToken) => WriteAsync(
        db =>
        {
            work(db);
            return true;
        },
        cancellationToken);

    private Task<T> ReadAsync<T>(Func<Db, T> work, CancellationToken cancellationToken) => _closed
        ? Task.FromException<T>(new StoreException(StoreFault.Closed, $"{_file.Path}: the store is closed."))
        : _reader.ReadAsync(work, cancellationToken);
}
