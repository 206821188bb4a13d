namespace Acquire.Storage.Files;

/// <summary>Reads on short connections of their own, so that no reader holds up the writer or its checkpoints.</summary>
internal sealed class StoreReader(StoreFile file, SealWatch watch)
{
    /// <summary>
    /// Reads what is one moment of the file, on a worker: the provider's own asynchronous methods block their caller.
    /// </summary>
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
