using Acquire.Storage.Files;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage;

public sealed partial class AcquireStore
{
    /// <summary>
    /// Asks whether the store can be used now: its file is where it was and can be read; and where the last write failed on the file, that
    /// one can be written again. Nothing is changed.
    /// </summary>
    /// <exception cref="StoreException">It cannot; says why.</exception>
    public async Task AnswerAsync(CancellationToken cancellationToken)
    {
        if (_closed)
        {
            throw new StoreException(StoreFault.Closed, $"{_file.Path}: the store is closed.");
        }

        // On a new connection: one that is open reads a file that was deleted or moved away as if nothing had happened.
        await Task.Run(RequireFile, cancellationToken);

        // A write of what is there already goes the whole way to the disk. It is tried only then, so that asking costs no wear.
        if (_writer.HasFailed)
        {
            await WriteAsync(
                db => _ = db.Execute(FormattableString.Invariant($"PRAGMA user_version = {db.Scalar<int>("PRAGMA user_version")}")),
                cancellationToken);
        }
    }

    private void RequireFile()
    {
        try
        {
            // One that could write, as the last that reads the write-ahead log must be able to take it away.
            using var connection = _file.Open(SqliteOpenMode.ReadWrite);
            if (FileIdentity.Check(connection, _file.Path, int.MaxValue) == 0)
            {
                throw new StoreException(StoreFault.Lost, $"{_file.Path}: the file was emptied. Restore a backup: acquire restore");
            }
        }
        catch (Exception e)
        {
            throw StoreFaults.Translate(e, _file.Path);
        }
    }
}
