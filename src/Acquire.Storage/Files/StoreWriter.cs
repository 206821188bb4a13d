using System.Threading.Channels;
using Microsoft.Data.Sqlite;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Storage.Files;

/// <summary>
/// The only writer of this process: one task owns the write connection and does the writes in the order in which they were asked for, one
/// transaction each. When it falls behind, callers wait for a place in the queue; nothing is dropped.
/// </summary>
internal sealed class StoreWriter : IAsyncDisposable
{
    private const int Places = 256;

    private readonly Channel<WriteJob> _queue = Channel.CreateBounded<WriteJob>(
        new BoundedChannelOptions(Places) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });

    private readonly StoreFile _file;
    private readonly TimeProvider _time;
    private readonly Task _loop;
    private SqliteConnection? _connection;
    private bool _seals;
    private volatile bool _hasFailed;

    /// <summary>Takes over an open connection.</summary>
    public StoreWriter(StoreFile file, SqliteConnection connection, TimeProvider time)
    {
        (_file, _connection, _time) = (file, connection, time);

        StoreMeters.Begin();

        // SQLite lets one write at a time anyway: a queue makes them wait in order, where locks would make them fail by chance.
        _loop = Task.Run(RunAsync);
    }

    /// <summary>Whether the file could not be written when that was last tried.</summary>
    public bool HasFailed => _hasFailed;

    /// <summary>
    /// Does the work in a transaction. The task ends after the commit and not before. A cancelled task has written nothing; work that has
    /// begun is not cancelled any more.
    /// </summary>
    /// <exception cref="StoreException">It could not be written; nothing of it was.</exception>
    public async Task<T> WriteAsync<T>(Func<Db, T> work, CancellationToken cancellationToken)
    {
        var job = new WriteJob<T>(work, cancellationToken);
        StoreMeters.Asked();
        try
        {
            await _queue.Writer.WriteAsync(job, cancellationToken);
            return await job.Done;
        }
        catch (ChannelClosedException e)
        {
            throw new StoreException(StoreFault.Closed, $"{_file.Path}: the store is closed.", e);
        }
        finally
        {
            StoreMeters.Done();
        }
    }

    /// <summary>Finishes what was asked for, then closes the connection.</summary>
    public async ValueTask DisposeAsync()
    {
        _ = _queue.Writer.TryComplete();
        await _loop;
        _connection?.Dispose();
    }

    /// <summary>
    /// One transaction; the default kind takes the write lock at once, so that it never fails between its read and its write.
    /// </summary>
    public T Commit<T>(Func<Db, T> work)
    {
        var began = _time.GetTimestamp();
        try
        {
            var connection = Sealing();
            using var transaction = connection.BeginTransaction();
            var result = work(new Db(connection, transaction));
            transaction.Commit();
            StoreMeters.Committed(_time.GetElapsedTime(began));
            _hasFailed = false;
            return result;
        }
        catch (Exception e)
        {
            var fault = Broken(e);
            StoreMeters.Failed(_time.GetElapsedTime(began), fault);
            _hasFailed |= fault is StoreException known && StoreFaults.IsOfTheFile(known.Fault);
            throw fault;
        }
    }

    /// <summary>
    /// The connection, which seals what it writes from the first write on and not before: most commands only read, and a trigger for every
    /// table costs more than all else in opening a store.
    /// </summary>
    private SqliteConnection Sealing()
    {
        if (_connection is null || !_seals)
        {
            _connection ??= _file.OpenForWriting();
            RowSeals.Attach(_connection);
            _seals = true;
        }

        return _connection;
    }

    private async Task RunAsync()
    {
        await foreach (var job in _queue.Reader.ReadAllAsync())
        {
            job.Run(this);
        }
    }

    /// <summary>
    /// A connection that met a fault of the disk or the file, or has half its seals, is thrown away; the next write opens a new one.
    /// </summary>
    private Exception Broken(Exception exception)
    {
        var translated = StoreFaults.Translate(exception, _file.Path);
        if (!_seals
            || (translated is StoreException { InnerException: SqliteException } fault && StoreFaults.BreaksConnection(fault.Fault)))
        {
            _connection?.Dispose();
            (_connection, _seals) = (null, false);
        }

        return translated;
    }
}

/// <summary>A write that waits for its turn.</summary>
internal abstract class WriteJob
{
    /// <summary>Does it and tells the caller; never throws.</summary>
    public abstract void Run(StoreWriter writer);
}

internal sealed class WriteJob<T>(Func<Db, T> work, CancellationToken cancellationToken) : WriteJob
{
    private readonly TaskCompletionSource<T> _done = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public Task<T> Done => _done.Task;

    public override void Run(StoreWriter writer)
    {
        if (cancellationToken.IsCancellationRequested)
        {
            _done.SetCanceled(cancellationToken);
            return;
        }

        try
        {
            _done.SetResult(writer.Commit(work));
        }
        catch (Exception e)
        {
            _done.SetException(e);
        }
    }
}
