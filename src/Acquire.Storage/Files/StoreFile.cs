using Dapper;
using Microsoft.Data.Sqlite;

namespace Acquire.Storage.Files;

/// <summary>The database file, and the one place that opens connections to it.</summary>
/// <param name="path">Full path of the file.</param>
/// <param name="lockWait">How long to wait for another program's lock, in whole seconds.</param>
internal sealed class StoreFile(string path, int lockWait = StoreFile.DefaultLockWait)
{
    public const string Name = "acquire.db";

    public const int DefaultLockWait = 5;

    /// <summary>
    /// Settings of a connection. They are forgotten when it closes, so every connection gets them here. No pool: it would hide which
    /// connection has them and keep the file open. FULL keeps a commit through a power cut; recursive triggers let the append-only triggers
    /// see a replacing insert too.
    /// </summary>
    private const string Pragmas = """
        PRAGMA foreign_keys = ON;
        PRAGMA synchronous = FULL;
        PRAGMA recursive_triggers = ON;
        PRAGMA trusted_schema = OFF;
        """;

    /// <summary>The others say nothing to one that only reads, and make SQLite read the whole schema before anything is asked.</summary>
    private const string ReadingPragmas = "PRAGMA trusted_schema = OFF;";

    static StoreFile()
    {
        DefaultTypeMap.MatchNamesWithUnderscores = true;

        // Code that Dapper makes for a question serves every file, and is not made anew for each: all files answer alike, and where one of
        // another version has other columns, Dapper sees that by itself.
        SqlMapper.ConnectionStringComparer = EqualityComparer<string>.Create((_, _) => true, _ => 0);
    }

    public string Path { get; } = path;

    public SqliteConnection OpenForReading() => Open(SqliteOpenMode.ReadOnly);

    /// <summary>A connection that keeps commits through a power cut. It does not seal yet what it writes.</summary>
    /// <exception cref="StoreException">The file system cannot hold the write-ahead log.</exception>
    public SqliteConnection OpenForWriting()
    {
        var connection = Open(SqliteOpenMode.ReadWrite);
        try
        {
            RequireWriteAheadLog(connection);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    public SqliteConnection Open(SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = Path,
            Mode = mode,
            Pooling = false,
            DefaultTimeout = lockWait,
        }.ToString());
        try
        {
            connection.Open();
            _ = connection.Execute(mode == SqliteOpenMode.ReadOnly ? ReadingPragmas : Pragmas);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Sets the write-ahead log, which stays with the file, and checks that it took.</summary>
    /// <exception cref="StoreException">The file system cannot hold it.</exception>
    private void RequireWriteAheadLog(SqliteConnection connection)
    {
        var mode = connection.ExecuteScalar<string>("PRAGMA journal_mode = WAL");
        if (mode != "wal")
        {
            throw new StoreException(
                StoreFault.NoWriteAheadLog,
                $"{Path}: this folder cannot hold the write-ahead log that keeps readings through a power cut (got '{mode}'). "
                + "Choose a data folder on a local disk.");
        }
    }
}

/// <summary>
/// Reads on connections of their own, one transaction each, so that no reader holds up the writer or its checkpoints. One connection is
/// kept for the next read: a new one begins with reading the whole schema, which costs more than most questions.
/// </summary>
internal sealed class StoreReader(StoreFile file, SealWatch watch) : IDisposable
{
    private volatile bool _closed;
    private SqliteConnection? _idle;

    /// <summary>Reads what is one moment of the file, on a worker: the provider's own asynchronous methods block their caller.</summary>
    /// <exception cref="StoreException">It could not be read.</exception>
    public Task<T> ReadAsync<T>(Func<Db, T> work, CancellationToken cancellationToken) => Task.Run(
        () =>
        {
            SqliteConnection? connection = null;
            try
            {
                connection = Interlocked.Exchange(ref _idle, null) ?? Open();
                var result = Read(connection, work);
                Keep(connection);
                return result;
            }
            catch (Exception e)
            {
                connection?.Dispose();
                throw StoreFaults.Translate(e, file.Path);
            }
        },
        cancellationToken);

    /// <summary>Closes the connection that was kept; to be closed before the writer's, which as the last one empties the log.</summary>
    public void Dispose()
    {
        _closed = true;
        Interlocked.Exchange(ref _idle, null)?.Dispose();
    }

    private T Read<T>(SqliteConnection connection, Func<Db, T> work)
    {
        using var transaction = connection.BeginTransaction(deferred: true);
        return work(new Db(connection, transaction, watch));
    }

    private SqliteConnection Open()
    {
        var connection = file.OpenForReading();
        RowSeals.AddFunctions(connection);
        return connection;
    }

    private void Keep(SqliteConnection connection)
    {
        Interlocked.Exchange(ref _idle, connection)?.Dispose();
        if (_closed)
        {
            Dispose();
        }
    }
}
