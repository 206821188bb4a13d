namespace Acquire.Bench.Service;

/// <summary>Tells any number of watchers that something is another than it was; each then looks for itself what is there now.</summary>
internal sealed class ChangeSignal
{
    private TaskCompletionSource _next = New();

    /// <summary>Completes at the next change. It is taken before looking, so that no change falls between.</summary>
    public Task Next => Volatile.Read(ref _next).Task;

    public void Tell() => Interlocked.Exchange(ref _next, New()).SetResult();

    private static TaskCompletionSource New() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}
