namespace Acquire.Instruments.Links;

/// <summary>The one place where a link breaks: the first fault stays, later ones are forgotten.</summary>
internal sealed class BreakOnce
{
    private readonly TaskCompletionSource<LinkException> _first = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Completes with the first fault.</summary>
    public Task<LinkException> Broken => _first.Task;

    /// <summary>Records the fault unless there was one, and gives the first, to be thrown.</summary>
    public LinkException Break(LinkException fault)
    {
        _ = _first.TrySetResult(fault);
        return _first.Task.Result;
    }

    /// <summary>Throws the first fault if there was one.</summary>
    /// <exception cref="LinkException">The link is broken.</exception>
    public void ThrowIfBroken()
    {
        if (_first.Task.IsCompleted)
        {
            var first = _first.Task.Result;
            throw new LinkException(first.Fault, first.Message, first);
        }
    }
}
