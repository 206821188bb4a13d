namespace Acquire.Instruments.Links;

/// <summary>Bytes to and from one instrument. The first fault is final: it surfaces as a <see cref="LinkException"/>, after which the link
/// is only fit to be disposed and a new one is opened. One task reads; another may write.</summary>
public interface IByteLink : IAsyncDisposable
{
    /// <summary>The port as the user named it.</summary>
    string Name { get; }

    /// <summary>What the user should know about how the link was opened, such as a parity that was replaced; mostly empty.</summary>
    ImmutableArray<string> Notices => [];

    /// <summary>How the link broke, as far as that shows without reading; null while nothing is known of a break. What came before it can
    /// still be read.</summary>
    LinkException? Fault => null;

    /// <summary>Waits for bytes and gives how many were read, always at least one.</summary>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled; nothing is lost, and the next read goes on.</exception>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken);

    /// <summary>Writes all bytes.</summary>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled; part may have been sent, so the link is broken.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken);
}

/// <summary>A link that passes everything through but for what it does to its reads. It owns the link below.</summary>
internal abstract class PassingLink(IByteLink inner) : IByteLink
{
    public string Name => Inner.Name;

    public ImmutableArray<string> Notices => Inner.Notices;

    public LinkException? Fault => Inner.Fault;

    protected IByteLink Inner { get; } = inner;

    public abstract ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken);

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        Inner.WriteAsync(bytes, cancellationToken);

    public ValueTask DisposeAsync() => Inner.DisposeAsync();
}

/// <summary>Opens links. The seam at which tests put a scripted instrument.</summary>
public interface ILinkOpener
{
    /// <summary>Opens the link for one owner.</summary>
    /// <exception cref="LinkException">It cannot be opened; the message says why and what to do.</exception>
    ValueTask<IByteLink> OpenAsync(LinkAddress address, LinkSettings settings, CancellationToken cancellationToken);
}

/// <summary>What is wrong with a link.</summary>
public enum LinkFault
{
    /// <summary>There is no such port or host.</summary>
    NotFound,

    /// <summary>Somebody else holds the port.</summary>
    InUse,

    /// <summary>The user may not open the port.</summary>
    Denied,

    /// <summary>The address or a setting is wrong.</summary>
    BadSettings,

    /// <summary>The port or its other end went away while it was open.</summary>
    Gone,

    /// <summary>Any other failure of reading or writing.</summary>
    Broken,
}

/// <summary>A link that cannot be opened or has broken. The message names the port, the trouble and the remedy.</summary>
public sealed class LinkException(LinkFault fault, string message, Exception? inner = null) : Exception(message, inner)
{
    public LinkFault Fault { get; } = fault;
}

/// <summary>The one place where a link breaks: the first fault stays, later ones are forgotten.</summary>
internal sealed class BreakOnce
{
    private readonly TaskCompletionSource<LinkException> _first = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <summary>Completes with the first fault.</summary>
    public Task<LinkException> Broken => _first.Task;

    /// <summary>The first fault; null when there was none.</summary>
    public LinkException? Fault => _first.Task.IsCompleted ? _first.Task.Result : null;

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
