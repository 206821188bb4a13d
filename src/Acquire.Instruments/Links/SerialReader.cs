namespace Acquire.Instruments.Links;

/// <summary>Keeps exactly one read under way. A cancelled wait leaves it running and the next call takes its bytes, because some systems
/// cannot cancel a read, and two at a time would swap bytes.</summary>
internal sealed class SerialReader(Stream stream, PortEar ear, byte mask, BreakOnce fault, Func<Exception?, LinkException> gone)
{
    private readonly byte[] _received = new byte[4096];
    private Task<int>? _pending;
    private ReadOnlyMemory<byte> _ready;

    /// <summary>Waits for bytes, and gives how many were put into the buffer.</summary>
    /// <exception cref="LinkException">The link is broken.</exception>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfZero(buffer.Length);
        if (_ready.IsEmpty)
        {
            _ready = _received.AsMemory(0, await ReceiveAsync(cancellationToken));
        }

        var count = Math.Min(buffer.Length, _ready.Length);
        var from = _ready.Span;
        var to = buffer.Span;
        for (var i = 0; i < count; i++)
        {
            to[i] = (byte)(from[i] & mask);
        }

        _ready = _ready[count..];
        return count;
    }

    private async ValueTask<int> ReceiveAsync(CancellationToken cancellationToken)
    {
        if (_pending is null)
        {
            fault.ThrowIfBroken();
            _pending = ReadOnceAsync();
        }

        _ = await Task.WhenAny(_pending, fault.Broken).WaitAsync(cancellationToken);
        if (!_pending.IsCompleted)
        {
            fault.ThrowIfBroken();
        }

        var count = await _pending;
        _pending = null;
        if (count == 0)
        {
            _ = fault.Break(gone(null));
            fault.ThrowIfBroken();
        }

        return count;
    }

    // Gives 0 for a lost port, so that an abandoned read never ends as an exception that nobody sees.
    private async Task<int> ReadOnceAsync()
    {
        // A stream that blocks until bytes come must not block the caller, who may want to give up waiting.
        await Task.Yield();
        try
        {
            await ear.ListenAsync(fault.Broken);
            return fault.Broken.IsCompleted ? 0 : await stream.ReadAsync(_received, CancellationToken.None);
        }
        catch (Exception e) when (PortLoss.Is(e))
        {
            _ = fault.Break(gone(e));
            return 0;
        }
    }
}
