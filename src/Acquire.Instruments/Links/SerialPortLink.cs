using System.IO.Ports;
using Microsoft.Extensions.Logging;

namespace Acquire.Instruments.Links;

/// <summary>A link over a serial port. After a hang-up the platform's port may neither fail nor finish (dotnet/runtime 121627), so the
/// presence of the device is looked at besides, and nothing is written after a fault.</summary>
public sealed class SerialPortLink : IByteLink
{
    private readonly SerialPort _port;
    private readonly Stream _stream;
    private readonly SerialReader _reader;
    private readonly IDisposable? _lock;
    private readonly LinkOpenerOptions _options;
    private readonly TimeProvider _time;
    private readonly ILogger _logger;
    private readonly BreakOnce _fault = new();
    private readonly CancellationTokenSource _closing = new();
    private readonly PortPresence _presence;
    private readonly Task _watch;
    private int _disposed;

    internal SerialPortLink(
        string name, SerialLine line, PortPresence presence, IDisposable? portLock, LinkOpenerOptions options,
        TimeProvider time, ILogger logger)
    {
        (Name, Notices, _port, _stream) = (name, line.Notices, line.Port, line.Port.BaseStream);
        (_lock, _options, _time, _logger) = (portLock, options, time, logger);
        _reader = new SerialReader(_stream, new PortEar(_port, TimeProvider.System), line.Mask, _fault, Gone);
        _presence = presence;
        _watch = WatchAsync();
    }

    public string Name { get; }

    public ImmutableArray<string> Notices { get; }

    /// <summary>Looked for anew: who asks must not be told of a port that went since the watch last looked.</summary>
    public LinkException? Fault => _fault.Fault ?? (_presence.IsThere && CountsBytes() ? null : _fault.Break(Gone(null)));

    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken) =>
        _reader.ReadAsync(buffer, cancellationToken);

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        _fault.ThrowIfBroken();
        try
        {
            await _stream.WriteAsync(bytes, cancellationToken).AsTask().WaitAsync(_options.WriteTimeout, _time, cancellationToken);
        }
        catch (OperationCanceledException) when (cancellationToken.IsCancellationRequested)
        {
            // How much was sent is not known, so a later write could make a command out of two halves: the link is over.
            _ = _fault.Break(
                new LinkException(LinkFault.Broken, $"Writing to {Name} was cancelled half-way; the port is to be opened anew."));
            throw;
        }
        catch (TimeoutException e)
        {
            throw _fault.Break(new LinkException(
                LinkFault.Broken, $"{Name} takes no bytes; check the instrument's flow control (handshake) and the cable.", e));
        }
        catch (Exception e) when (PortLoss.Is(e))
        {
            throw _fault.Break(Gone(e));
        }
    }

    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _disposed, 1) != 0)
        {
            return;
        }

        _ = _fault.Break(new LinkException(LinkFault.Broken, $"{Name} was closed by this program."));
        // The lock goes last: the next owner must not open the port while this one is still closing it.
        await _closing.CancelAsync();
        await CloseAsync();
        await _watch;
        _lock?.Dispose();
        _closing.Dispose();
    }

    /// <summary>Discards what has come so far and has not been read.</summary>
    /// <exception cref="LinkException">The port is lost.</exception>
    internal void DiscardReceived()
    {
        try
        {
            _port.DiscardInBuffer();
        }
        catch (Exception e) when (PortLoss.Is(e))
        {
            throw _fault.Break(Gone(e));
        }
    }

    private async Task CloseAsync()
    {
        try
        {
            // Not SerialPort.Dispose: it flushes first, and that never ends when a write is stuck.
            await Task.Run(_stream.Dispose, CancellationToken.None).WaitAsync(_options.CloseDeadline, _time, CancellationToken.None);
        }
        catch (TimeoutException)
        {
            LinkLog.Abandoned(_logger, Name, _options.CloseDeadline);
        }
        catch (Exception e) when (PortLoss.Is(e))
        {
            LinkLog.CloseFailed(_logger, Name, e);
        }
    }

    private async Task WatchAsync()
    {
        if (await _presence.WaitUntilGoneAsync(CountsBytes, _closing.Token))
        {
            _ = _fault.Break(Gone(null));
        }
    }

    // On Linux a port that hung up answers −1 instead of failing.
    private bool CountsBytes()
    {
        try
        {
            return _port.BytesToRead >= 0;
        }
        catch (Exception e) when (PortLoss.Is(e))
        {
            return false;
        }
    }

    private LinkException Gone(Exception? inner) => new(
        LinkFault.Gone, $"{Name} went away: the adapter was unplugged, or the other end closed. Plug it in again.", inner);
}

/// <summary>Looks from time to time whether the device behind an open port is still the one that was opened.</summary>
internal sealed class PortPresence
{
    private readonly string _resolvedPath;
    private readonly DeviceNode? _opened;
    private readonly TimeSpan _interval;
    private readonly TimeProvider _time;

    /// <summary>Remembers the device that is there now.</summary>
    public PortPresence(string resolvedPath, TimeSpan interval, TimeProvider time)
    {
        (_resolvedPath, _interval, _time) = (resolvedPath, interval, time);
        _opened = DeviceNode.Of(resolvedPath);
    }

    /// <summary>Whether the path still leads to the same device. A name that is
    /// no path, such as <c>COM3</c>, cannot be looked at.</summary>
    public bool IsThere =>
        !Path.IsPathRooted(_resolvedPath)
        || (_opened is { } opened ? DeviceNode.Of(_resolvedPath)?.Identity == opened.Identity : File.Exists(_resolvedPath));

    /// <summary>Waits until the device is gone or the port is dead. False when it was cancelled first.</summary>
    public async Task<bool> WaitUntilGoneAsync(Func<bool> isAlive, CancellationToken cancellationToken)
    {
        using var timer = new PeriodicTimer(_interval, _time);
        try
        {
            // Looked at before the first tick: the port may have gone between its opening and this.
            while (IsThere && isAlive())
            {
                _ = await timer.WaitForNextTickAsync(cancellationToken);
            }

            return !cancellationToken.IsCancellationRequested;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}

/// <summary>The many ways in which the platform says that an open port is lost.</summary>
internal static class PortLoss
{
    /// <summary>Whether the exception means that the port is lost, rather than a mistake in this program.</summary>
    public static bool Is(Exception e) =>
        e is IOException or UnauthorizedAccessException or ObjectDisposedException or InvalidOperationException
            or OperationCanceledException;
}
