using Acquire.Instruments.Links;

namespace Acquire.Instruments.Simulation;

/// <summary>The instrument's end of a simulated line. Listeners come and go; what is sent while nobody listens waits for one.</summary>
public interface ISimulatedPort : IAsyncDisposable
{
    /// <summary>Where a listener opens the other end.</summary>
    LinkAddress Address { get; }

    /// <summary>Whether somebody has the other end open.</summary>
    bool HasListener { get; }

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
