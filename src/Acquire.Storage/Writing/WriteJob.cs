using Acquire.Storage.Rows;

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
    private readonly TaskCompletionSource<T> done = new(TaskCreationOptions.RunContinuationsAsynchronously);

    public Task<T> Done => done.Task;

    public override void Run(StoreWriter writer)
    {
        if (cancellationToken.IsCancellationRequested)
        {
            done.SetCanceled(cancellationToken);
            return;
        }

        try
        {
            done.SetResult(writer.Commit(work));
        }
        catch (Exception e)
        {
            done.SetException(e);
        }
    }
}
