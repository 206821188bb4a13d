using System.Threading.Channels;
using Acquire.Instruments.Links;
using Channel = System.Threading.Channels.Channel;

namespace Acquire.Instruments.Simulation;

/// <summary>The instrument's end of a simulated line. Listeners come and go; what is sent while nobody listens waits for one.</summary>
public interface ISimulatedPort : IAsyncDisposable
{
    /// <summary>Where a listener opens the other end.</summary>
    LinkAddress Address { get; }

    /// <summary>How many listeners have come so far; tells a new one from the one before.</summary>
    int Arrivals { get; }

    /// <summary>Waits until somebody has the other end open.</summary>
    /// <exception cref="ObjectDisposedException">The port was closed.</exception>
    Task WaitForListenerAsync(CancellationToken cancellationToken);

    /// <summary>Sends all bytes, once there is a listener.</summary>
    /// <exception cref="ObjectDisposedException">The port was closed.</exception>
    ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken);

    /// <summary>Waits for bytes from the listener, and gives how many were read; zero once the port is closed.</summary>
    ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken);
}

public static class SimulatedPorts
{
    /// <summary>Makes a pseudo-terminal where the system has them, and a TCP port on loopback elsewhere.</summary>
    /// <param name="link">A path at which a symbolic link to the pseudo-terminal is
    /// wished; null for none. A TCP port has no use for it.</param>
    /// <param name="time">The clock of its waits.</param>
    /// <exception cref="LinkException">It cannot be made; the message says why.</exception>
    public static ISimulatedPort Create(string? link, TimeProvider time) =>
        PseudoTerminal.IsSupported ? PseudoTerminal.Open(time, link) : SimulatedTcpPort.Listen(0);
}

/// <summary>Lets waiters through while somebody listens, and turns them away once the port is closed.</summary>
internal sealed class ListenerGate
{
    private readonly Lock _change = new();
    private TaskCompletionSource _open = Closed();
    private bool _ended;

    public bool IsOpen => _open.Task.IsCompletedSuccessfully;

    /// <summary>How many listeners have come so far.</summary>
    public int Arrivals { get; private set; }

    public void Set(bool listening)
    {
        lock (_change)
        {
            if (_ended || listening == IsOpen)
            {
                return;
            }

            if (listening)
            {
                Arrivals++;
                _open.SetResult();
            }
            else
            {
                _open = Closed();
            }
        }
    }

    /// <summary>Ends all waiting: the port is closed.</summary>
    public void End()
    {
        lock (_change)
        {
            _ended = true;
            _open = IsOpen ? Closed() : _open;
            _ = _open.TrySetException(new ObjectDisposedException("simulated port", "The simulated port was closed."));
            _ = _open.Task.Exception; // seen, whether or not somebody waits
        }
    }

    /// <exception cref="ObjectDisposedException">The port was closed.</exception>
    public async Task WaitAsync(CancellationToken cancellationToken)
    {
        // Anew each time: the listener of a moment ago may have left.
        while (!IsOpen)
        {
            await Volatile.Read(ref _open).Task.WaitAsync(cancellationToken);
        }
    }

    private static TaskCompletionSource Closed() => new(TaskCreationOptions.RunContinuationsAsynchronously);
}

/// <summary>What a listener sent and nobody has read yet; when it grows too long the oldest is dropped, as in a real instrument.</summary>
internal sealed class ReceivedBytes
{
    private const int MostChunks = 256;

    private readonly Channel<byte[]> _chunks = Channel.CreateBounded<byte[]>(
        new BoundedChannelOptions(MostChunks) { FullMode = BoundedChannelFullMode.DropOldest, SingleWriter = true });

    private ReadOnlyMemory<byte> _ready;

    public void Add(ReadOnlySpan<byte> bytes) => _ = _chunks.Writer.TryWrite(bytes.ToArray());

    /// <summary>Ends it; what is there can still be read.</summary>
    public void End() => _ = _chunks.Writer.TryComplete();

    /// <summary>Waits for bytes; 0 once it has ended and all is read.</summary>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        while (_ready.IsEmpty)
        {
            if (!await _chunks.Reader.WaitToReadAsync(cancellationToken))
            {
                return 0;
            }

            _ready = _chunks.Reader.TryRead(out var chunk) ? chunk : default;
        }

        var count = Math.Min(buffer.Length, _ready.Length);
        _ready[..count].CopyTo(buffer);
        _ready = _ready[count..];
        return count;
    }
}
