namespace Acquire.Storage.Writing;

/// <summary>A write that waits for its turn.</summary>
internal abstract class WriteJob
{
    /// <summary>Does it and tells the caller; never throws.</summary>
    public abstract void Run(StoreWriter writer);
}

/// <inheritdoc/>
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
