using System.Runtime.ExceptionServices;
using Acquire.Storage.Files;
using Acquire.Storage.Inspection;
using Acquire.Storage.Migrations;
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
    private readonly SealWatch _watch = new();
    private volatile bool _closed;

    private AcquireStore(StoreFile file, SqliteConnection connection, FileStream inUse, TimeProvider time)
    {
        (_file, _inUse, _time) = (file, inUse, time);
        _reader = new StoreReader(file, _watch);
        _writer = new StoreWriter(file, connection, time);
    }

    /// <summary>Full path of the database file.</summary>
    public string FilePath => _file.Path;

    /// <summary>
    /// The records that were left out of what was asked so far, each with why: a row of it is not as it was written, or it cannot be read.
    /// </summary>
    public IReadOnlyCollection<string> LeftOut => _watch.LeftOut;

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
        _reader.Dispose();
        await _writer.DisposeAsync();
        await _inUse.DisposeAsync();
    }

    /// <summary>Makes a copy of the whole store in one new file, while the store stays in use, and looks it wholly through.</summary>
    /// <param name="target">A file that does not exist.</param>
    /// <param name="cancellationToken">Cancels; no file is left.</param>
    /// <exception cref="StoreException">
    /// There is such a file, it cannot be written, or the copy is not sound: then the store is not either.
    /// </exception>
    public Task BackUpAsync(string target, CancellationToken cancellationToken) => Task.Run(
        async () =>
        {
            try
            {
                using var source = _file.OpenForReading();
                await DatabaseCopy.MakeAsync(
                    source, Path.GetFullPath(target), copy => ProveAsync(copy, "the backup", _time, cancellationToken));
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, _file.Path);
            }
        },
        cancellationToken);

    /// <summary>
    /// Makes such a copy under a name of its own in the folder <c>backups</c>, and deletes the backups there that need not be kept.
    /// </summary>
    /// <returns>The new file, and those that were deleted.</returns>
    public async Task<(string Made, ImmutableArray<string> Removed)> BackUpAsync(CancellationToken cancellationToken)
    {
        var dataFolder = Path.GetDirectoryName(FilePath)!;
        try
        {
            UserOnly.Folder(BackupFolder.Of(dataFolder).Path);
            while (true)
            {
                var now = _time.GetUtcNow();
                var made = BackupFolder.Of(dataFolder).NameAt(now);
                try
                {
                    await BackUpAsync(made, cancellationToken);
                    return (made, BackupFolder.Of(dataFolder).Prune(now));
                }
                catch (StoreException e) when (e.Fault == StoreFault.Duplicate)
                {
                    // Another program took the name meanwhile; the next is free.
                }
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StoreFaults.Translate(e, dataFolder);
        }
    }

    /// <summary>
    /// Puts a backup in the place of a store, once the copy of it has been looked wholly through. The file that is there is kept beside it
    /// under another name, and the backup itself stays. At every moment there is the old file, or the new one, or what makes the next
    /// command that opens the store finish.
    /// </summary>
    /// <param name="backup">The backup; any store file will do.</param>
    /// <param name="time">The clock, for the name that the old file gets.</param>
    /// <param name="cancellationToken">Cancels before the change has begun.</param>
    /// <returns>Where the old file is now; null when there was none.</returns>
    /// <exception cref="StoreException">
    /// A program has the store open, the copy is not sound, or a file cannot be written; then the old file is where it was.
    /// </exception>
    public static Task<string?> RestoreAsync(
        string backup, string dataFolder, TimeProvider time, CancellationToken cancellationToken) => Task.Run(
        async () =>
        {
            var folder = DataFolder.Prepare(dataFolder);
            var target = Path.Combine(folder, StoreFile.Name);
            try
            {
                await using var alone = StoreLock.Alone(folder) ?? throw StoreLock.InUse(folder);
                return await Restoring.ReplaceAsync(
                    Path.GetFullPath(backup),
                    target, time.GetUtcNow(), copy => ProveAsync(copy, $"the copy of {backup}", time, cancellationToken));
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, target);
            }
        },
        cancellationToken);

    /// <summary>Seals the rows that have no seal, as they are now, and gives their number.</summary>
    public Task<long> SealAsync(CancellationToken cancellationToken) => 
        WriteAsync(db => RowSeals.SealMissing(db, ImmutableHashSet<(string, string)>.Empty), cancellationToken);

    /// <summary>Opens with a choice of scripts, so that tests can make files of earlier versions.</summary>
    internal static Task<AcquireStore> OpenAsync(
        string dataFolder,
        TimeProvider time, ImmutableArray<SqlScript> scripts, int lockWait, CancellationToken cancellationToken) => Task.Run(
        async () =>
        {
            var opening = new StoreOpening(DataFolder.Prepare(dataFolder), scripts, lockWait, time);
            try
            {
                var (inUse, connection) = await opening.OpenAsync(cancellationToken);
                return new AcquireStore(opening.File, connection, inUse, time);
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, opening.File.Path);
            }
        },
        cancellationToken);

    /// <summary>
    /// Reads, decides and writes in one transaction; no other program writes between the first and the last. What the work throws of its
    /// own comes out as it is, and nothing is written then.
    /// </summary>
    /// <param name="work">Runs on the writer's thread, once. Other writes wait for it, so it asks nobody and waits for nothing.</param>
    /// <param name="cancellationToken">Cancels before it has begun.</param>
    public async Task<T> InTransactionAsync<T>(Func<StoreTransaction, T> work, CancellationToken cancellationToken)
    {
        // The writer names every exception a fault of the store; the caller's own are carried past it.
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

    private static async Task ProveAsync(string copy, string what, TimeProvider time, CancellationToken cancellationToken)
    {
        var report = await StoreInspection.InspectAsync(copy, time, cancellationToken);
        if (!report.IsSound)
        {
            throw new StoreException(
                StoreFault.Damaged,
                $"{what} is not sound, and was not kept: {string.Join("; ", report.Findings.Take(3).Select(f => f.What))}. "
                + "What it was made of is not either; see what is wrong with: acquire verify");
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
