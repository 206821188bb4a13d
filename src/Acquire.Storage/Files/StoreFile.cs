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

    static StoreFile() => DefaultTypeMap.MatchNamesWithUnderscores = true;

    public string Path { get; } = path;

    public SqliteConnection OpenForReading() => Open(SqliteOpenMode.ReadOnly);

    /// <summary>A connection that keeps commits through a power cut and seals what it writes.</summary>
    /// <exception cref="StoreException">The file system cannot hold the write-ahead log.</exception>
    public SqliteConnection OpenForWriting()
    {
        var connection = Open(SqliteOpenMode.ReadWrite);
        try
        {
            RequireWriteAheadLog(connection);
            RowSeals.Attach(connection);
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
            _ = connection.Execute(Pragmas);
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

/// <summary>Reads on short connections of their own, so that no reader holds up the writer or its checkpoints.</summary>
internal sealed class StoreReader(StoreFile file, SealWatch watch)
{
    /// <summary>Reads what is one moment of the file, on a worker: the provider's own asynchronous methods block their caller.</summary>
    /// <exception cref="StoreException">It could not be read.</exception>
    public Task<T> ReadAsync<T>(Func<Db, T> work, CancellationToken cancellationToken) => Task.Run(
        () =>
        {
            try
            {
                using var connection = file.OpenForReading();
                RowSeals.AddFunctions(connection);
                using var transaction = connection.BeginTransaction(deferred: true);
                return work(new Db(connection, transaction, watch));
            }
            catch (Exception e)
            {
                throw StoreFaults.Translate(e, file.Path);
            }
        },
        cancellationToken);
}
