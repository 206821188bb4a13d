using System.IO.Ports;
using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace Acquire.Instruments.Links;

/// <summary>Opens a port on a worker, with a limit of time, and puts the platform's refusals into words.</summary>
internal static class SerialOpening
{
    private const int Busy = 16; // EBUSY, the same number on Linux and macOS
    private const int Forbidden = 13; // EACCES, the same number on Linux and macOS

    /// <exception cref="LinkException">The system refuses the port, or does not answer in time.</exception>
    public static async Task<SerialLine> OpenAsync(
        PortFacts facts, LinkSettings settings, TimeSpan timeout, TimeProvider time, CancellationToken cancellationToken)
    {
        var opening = Task.Run(() => SerialLine.Open(facts.ResolvedPath, settings), CancellationToken.None);
        try
        {
            return await opening.WaitAsync(timeout, time, cancellationToken);
        }
        catch (Exception e) when (e is TimeoutException or OperationCanceledException && !opening.IsCompleted)
        {
            // Closed as soon as it opens after all.
            _ = opening.ContinueWith(
                static late => late.Result.Port.BaseStream.Dispose(),
                CancellationToken.None, TaskContinuationOptions.OnlyOnRanToCompletion, TaskScheduler.Default);
            throw e is OperationCanceledException
                ? e
                : new LinkException(LinkFault.Broken, $"{facts.Name} does not open within {timeout.TotalSeconds:0} s. {Hint(facts)}", e);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException or ArgumentException or InvalidOperationException)
        {
            throw Explain(facts, settings, e);
        }
    }

    private static LinkException Explain(PortFacts facts, LinkSettings settings, Exception e) => (e, e.InnerException?.HResult) switch
    {
        (UnauthorizedAccessException, Busy) => new LinkException(
            LinkFault.InUse, $"{facts.Name} is held by another program of another user. End that program, or name another port.", e),
        (UnauthorizedAccessException, Forbidden) => new LinkException(LinkFault.Denied, $"You may not open {facts.Name}.", e),
        (UnauthorizedAccessException, _) => new LinkException(
            OperatingSystem.IsWindows() ? LinkFault.InUse : LinkFault.Broken,
            $"{facts.Name} cannot be opened: {(e.InnerException ?? e).Message} Another program may hold it, or no adapter is behind it.",
            e),
        _ => new LinkException(
            LinkFault.BadSettings,
            string.Create(
                CultureInfo.InvariantCulture,
                $"{facts.Name} cannot be set to {settings.Baud} baud, {settings.DataBits} data bits, {settings.StopBits} stop bits: "
                + $"{e.Message}"),
            e),
    };

    // On macOS the tty.* names wait for a carrier that a densitometer does not raise.
    private static string Hint(PortFacts facts) =>
        facts.ResolvedPath.StartsWith("/dev/tty.", StringComparison.Ordinal)
            ? $"Name {facts.ResolvedPath.Replace("/dev/tty.", "/dev/cu.", StringComparison.Ordinal)} instead."
            : "Unplug the adapter and plug it in again.";
}

/// <summary>A serial port that has been opened and set, with the byte mask and the notices that came of it.</summary>
/// <param name="Port">The open port.</param>
/// <param name="Mask">What every received byte is masked with.</param>
/// <param name="Notices">What the user should know.</param>
internal sealed record SerialLine(SerialPort Port, byte Mask, ImmutableArray<string> Notices)
{
    private const int NotATerminalLine = 25; // ENOTTY, the same number on Linux and macOS

    /// <summary>Opens a port, with fall-backs for a refused parity and for missing modem control lines. Blocks.</summary>
    /// <exception cref="LinkException">No other way to set the line is left.</exception>
    /// <exception cref="IOException">The system refuses the port.</exception>
    /// <exception cref="UnauthorizedAccessException">The port cannot be opened.</exception>
    public static SerialLine Open(string path, LinkSettings settings)
    {
        List<string> notices = [];
        var port = OpenWithParity(path, ref settings, notices);
        return new SerialLine(port, settings.Mask, [.. notices]);
    }

    private static SerialPort OpenWithParity(string path, ref LinkSettings settings, List<string> notices)
    {
        if (!IsDropped(settings.Parity))
        {
            try
            {
                return OpenWithControlLines(path, settings, notices);
            }
            catch (Exception e) when (settings.Parity != LineParity.None && IsRefusedSetting(e))
            {
                // Opened another way below.
            }
        }

        (settings, var notice) = ParityFallback.For(path, settings);
        notices.Add(notice);
        return OpenWithControlLines(path, settings, notices);
    }

    private static SerialPort OpenWithControlLines(string path, LinkSettings settings, List<string> notices)
    {
        using var found = ModemLines.LookUp(path);
        var dtr = Wanted(settings.Dtr, found.Dtr);
        var rts = Wanted(settings.Rts, found.Rts);
        try
        {
            return OpenOnce(path, settings, dtr, rts);
        }
        catch (IOException e) when (e.HResult == NotATerminalLine && (dtr || rts))
        {
            if (settings is { Dtr: ControlLine.On } or { Rts: ControlLine.On })
            {
                notices.Add($"{path} has no DTR and RTS lines; they are left alone.");
            }

            return OpenOnce(path, settings, dtr: false, rts: false);
        }
    }

    private static SerialPort OpenOnce(string path, LinkSettings settings, bool dtr, bool rts)
    {
        var port = new SerialPort(
            path, settings.Baud, Map(settings.Parity), settings.DataBits, settings.StopBits == 2 ? StopBits.Two : StopBits.One);
        try
        {
            port.Handshake = Map(settings.Handshake);
            port.DtrEnable = dtr;
            if (settings.Handshake != Handshake.RtsCts)
            {
                // With RTS/CTS the line is the driver's, and to set it is refused.
                port.RtsEnable = rts;
            }

            port.Open();
            return port;
        }
        catch
        {
            port.Dispose();
            throw;
        }
    }

    private static bool Wanted(ControlLine line, bool found) => line == ControlLine.Untouched ? found : line == ControlLine.On;

    // Outside Windows, System.IO.Ports takes mark and space without a word and sets no parity at all (seen in its system calls, 10.0.15).
    private static bool IsDropped(LineParity parity) => parity is LineParity.Mark or LineParity.Space && !OperatingSystem.IsWindows();

    private static bool IsRefusedSetting(Exception e) => e is ArgumentException or IOException or PlatformNotSupportedException;

    private static Parity Map(LineParity parity) => parity switch
    {
        LineParity.None => Parity.None,
        LineParity.Even => Parity.Even,
        LineParity.Odd => Parity.Odd,
        LineParity.Mark => Parity.Mark,
        LineParity.Space => Parity.Space,
        _ => throw new ArgumentOutOfRangeException(nameof(parity), parity, null),
    };

    private static System.IO.Ports.Handshake Map(Handshake handshake) => handshake switch
    {
        Handshake.None => System.IO.Ports.Handshake.None,
        Handshake.RtsCts => System.IO.Ports.Handshake.RequestToSend,
        Handshake.XonXoff => System.IO.Ports.Handshake.XOnXOff,
        _ => throw new ArgumentOutOfRangeException(nameof(handshake), handshake, null),
    };
}

/// <summary>The state of DTR and RTS, for leaving them as they are: <c>SerialPort</c> knows only on and off, and sets one of
/// the two while it opens. So the state is looked up first and then asked for. The look-up's handle stays open meanwhile,
/// because the last close of a port drops both lines.</summary>
internal sealed partial class ModemLines : IDisposable
{
    private const int ReadWriteNoControlNonBlockingCloseOnExec = 0x2 | 0x100 | 0x800 | 0x80000;
    private const uint GetModemBits = 0x5415;
    private const int DtrBit = 0x002;
    private const int RtsBit = 0x004;

    private readonly SafeFileHandle? _handle;

    private ModemLines(SafeFileHandle? handle, bool dtr, bool rts) => (_handle, Dtr, Rts) = (handle, dtr, rts);

    public bool Dtr { get; }

    public bool Rts { get; }

    /// <summary>Looks the lines up. A pseudo-terminal has none, which counts as off. Other systems than Linux are not asked: Windows keeps
    /// them lowered, and elsewhere drivers raise them when a port is opened.</summary>
    public static ModemLines LookUp(string path)
    {
        if (!OperatingSystem.IsLinux())
        {
            var raised = !OperatingSystem.IsWindows();
            return new ModemLines(null, raised, raised);
        }

        var handle = Open(path, ReadWriteNoControlNonBlockingCloseOnExec);
        var known = !handle.IsInvalid && Control(handle, GetModemBits, out var bits) == 0 ? bits : 0;
        return new ModemLines(handle, (known & DtrBit) != 0, (known & RtsBit) != 0);
    }

    public void Dispose() => _handle?.Dispose();

    [LibraryImport("libc", EntryPoint = "open", StringMarshalling = StringMarshalling.Utf8)]
    private static partial SafeFileHandle Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "ioctl")]
    private static partial int Control(SafeFileHandle handle, nuint request, out int bits);
}
