using System.Runtime.Versioning;
using Acquire.Instruments.Links;
using Microsoft.Win32.SafeHandles;

namespace Acquire.Instruments.Simulation;

/// <summary>A pseudo-terminal: a serial port without hardware. It takes every speed and has no modem control lines, so it proves nothing
/// about those. This end never holds the other end open, so that whoever does is a listener.</summary>
public sealed class PseudoTerminal : ISimulatedPort
{
    private const int LookEvery = 20; // ms; an upper bound of how late a listener is seen

    private static readonly TimeSpan RoomPoll = TimeSpan.FromMilliseconds(5);

    private readonly SafeFileHandle _master;
    private readonly TimeProvider _time;
    private readonly string? _link;
    private readonly ListenerGate _listener = new();
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly ReceivedBytes _received = new();
    private volatile bool _closing;

    private PseudoTerminal(SafeFileHandle master, string path, string? link, TimeProvider time)
    {
        (_master, SlavePath, _link, _time) = (master, path, link, time);
        Address = new LinkAddress.Serial(link ?? path);
        new Thread(Watch) { IsBackground = true, Name = $"pseudo-terminal {path}" }.Start();
    }

    [SupportedOSPlatformGuard("linux")]
    [SupportedOSPlatformGuard("macos")]
    public static bool IsSupported => OperatingSystem.IsLinux() || OperatingSystem.IsMacOS();

    /// <summary>The device that a listener opens, such as <c>/dev/pts/4</c>.</summary>
    public string SlavePath { get; }

    public LinkAddress Address { get; }

    public int Arrivals => _listener.Arrivals;

    /// <param name="time">The clock of its waits.</param>
    /// <param name="link">
    /// A path for a symbolic link to it; an older link to a pseudo-terminal is replaced, anything else is left alone.
    /// </param>
    /// <exception cref="LinkException">The system refuses, or the link cannot be made.</exception>
    public static PseudoTerminal Open(TimeProvider time, string? link = null)
    {
        if (!IsSupported)
        {
            throw new LinkException(LinkFault.BadSettings, "This system has no pseudo-terminals; simulate on a TCP port instead.");
        }

        SafeFileHandle? master = null;
        try
        {
            (master, var path) = PseudoTerminalCalls.Open();
            var fullLink = link is null ? null : SymbolicLink.Put(link, path);
            return new PseudoTerminal(master, path, fullLink, time);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            master?.Dispose();
            throw new LinkException(LinkFault.Broken, $"No pseudo-terminal could be made: {e.Message}", e);
        }
    }

    public Task WaitForListenerAsync(CancellationToken cancellationToken) => _listener.WaitAsync(cancellationToken);

    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        while (!bytes.IsEmpty)
        {
            await WaitForListenerAsync(cancellationToken);
            var count = PseudoTerminalCalls.Write(_master, bytes.Span);
            bytes = bytes[count..];
            if (count == 0)
            {
                await Task.Delay(RoomPoll, _time, cancellationToken);
            }
        }
    }

    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken) =>
        _received.ReadAsync(buffer, cancellationToken);

    public async ValueTask DisposeAsync()
    {
        _closing = true;
        await _ended.Task;
        _master.Dispose();
        if (_link is not null)
        {
            SymbolicLink.Remove(_link, SlavePath);
        }
    }

    // Polls on a thread of its own: a blocking read could not be ended, and a hung-up pseudo-terminal reports itself without pause.
    private void Watch()
    {
        var buffer = new byte[4096];
        while (!_closing)
        {
            var (readable, listener) = PseudoTerminalCalls.Wait(_master, LookEvery);
            _listener.Set(listener);
            if (readable && PseudoTerminalCalls.Read(_master, buffer) is > 0 and var count)
            {
                _received.Add(buffer.AsSpan(0, count));
            }
            else if (!listener)
            {
                PseudoTerminalCalls.Pause(LookEvery);
            }
        }

        _listener.End();
        _received.End();
        _ended.SetResult();
    }
}

/// <summary>A symbolic link at a path of the user's choice.</summary>
internal static class SymbolicLink
{
    /// <summary>Makes the link, in place of an older one to a device of the same kind; gives its full path.</summary>
    /// <exception cref="IOException">There is something else at the path, or it cannot be written.</exception>
    public static string Put(string link, string target)
    {
        var full = Path.GetFullPath(link);
        // One that was left behind leads to another number of the same devices; any other link is somebody's, as a file is.
        var older = new FileInfo(full).LinkTarget;
        if (older is not null && Kind(older) == Kind(target))
        {
            File.Delete(full);
        }
        else if (older is not null || Path.Exists(full))
        {
            throw new IOException($"{full} is there already and is no {(older is null ? "link" : "link to a pseudo-terminal")}; "
                + "name another path for the link.");
        }

        _ = File.CreateSymbolicLink(full, target);
        return full;
    }

    private static string Kind(string device) => device.TrimEnd('0', '1', '2', '3', '4', '5', '6', '7', '8', '9');

    /// <summary>Removes the link, if it still leads to the target.</summary>
    public static void Remove(string link, string target)
    {
        try
        {
            if (new FileInfo(link).LinkTarget == target)
            {
                File.Delete(link);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The link leads nowhere now; whoever opens it is told so.
        }
    }
}
