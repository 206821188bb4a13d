using System.IO.Ports;

namespace Acquire.Instruments.Links;

/// <summary>A serial port that has been opened and set, with the byte mask and the notices that came of it.</summary>
/// <param name="Port">The open port.</param>
/// <param name="Mask">What every received byte is masked with.</param>
/// <param name="Notices">What the user should know.</param>
internal sealed record SerialLine(SerialPort Port, byte Mask, ImmutableArray<string> Notices)
{
    private const byte SevenBits = 0x7F;
    private const byte EightBits = 0xFF;
    private const int NotATerminalLine = 25; // ENOTTY, the same number on Linux and macOS

    /// <summary>Opens a port, with fall-backs for a refused parity and for missing modem control lines. Blocks.</summary>
    /// <exception cref="LinkException">No other way to set the line is left.</exception>
    /// <exception cref="IOException">The system refuses the port.</exception>
    /// <exception cref="UnauthorizedAccessException">The port cannot be opened.</exception>
    public static SerialLine Open(string path, LinkSettings settings)
    {
        List<string> notices = [];
        var port = OpenWithParity(path, ref settings, notices);
        var mask = settings.MaskTopBit || settings.DataBits == 7 ? SevenBits : EightBits;
        return new SerialLine(port, mask, [.. notices]);
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
