namespace Acquire.Instruments.Links;

/// <summary>
/// Bytes to and from one instrument. The first fault is final: it surfaces as a <see cref="LinkException"/>, after which the link is
/// only fit to be disposed and a new one is opened. One task reads; another may write.
/// </summary>
public interface IByteLink : IAsyncDisposable
{
    /// <summary>The port as the user named it.</summary>
    string Name { get; }

    /// <summary>What the user should know about how the link was opened, such as a parity that was replaced; mostly empty.</summary>
    ImmutableArray<string> Notices => [];

    /// <summary>Waits for bytes and gives how many were read, always at least one.</summary>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled; nothing is lost, and the next read goes on.</exception>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken);

    /// <summary>Writes all bytes.</summary>
    /// <exception cref="LinkException">The link broke or ended.</exception>
    /// <exception cref="OperationCanceledException">The token was cancelled; part may have been sent, so the link is broken.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken);
}
