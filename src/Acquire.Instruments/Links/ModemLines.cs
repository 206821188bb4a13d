using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;

namespace Acquire.Instruments.Links;

/// <summary>
/// The state of DTR and RTS, for leaving them as they are: <c>SerialPort</c> knows only on and off, and sets one of the two while it
/// opens. So the state is looked up first and then asked for. The look-up's handle stays open meanwhile, because the last
/// close of a port drops both lines.
/// </summary>
internal sealed partial class ModemLines : IDisposable
{
    private const int ReadWriteNoControlNonBlockingCloseOnExec = 0x2 | 0x100 | 0x800 | 0x80000;
    private const uint GetModemBits = 0x5415;
    private const int DtrBit = 0x002;
    private const int RtsBit = 0x004;

    private readonly SafeFileHandle? _handle;

    private ModemLines(SafeFileHandle? handle, bool dtr, bool rts) => (_handle, Dtr, Rts) = (handle, dtr, rts);

    /// <summary>Whether DTR is on.</summary>
    public bool Dtr { get; }

    /// <summary>Whether RTS is on.</summary>
    public bool Rts { get; }

    /// <summary>
    /// Looks the lines up. A pseudo-terminal has none, which counts as off. Other systems than Linux are not asked: Windows
    /// keeps them lowered, and elsewhere drivers raise them when a port is opened.
    /// </summary>
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

    /// <inheritdoc/>
    public void Dispose() => _handle?.Dispose();

    [LibraryImport("libc", EntryPoint = "open", StringMarshalling = StringMarshalling.Utf8)]
    private static partial SafeFileHandle Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "ioctl")]
    private static partial int Control(SafeFileHandle handle, nuint request, out int bits);
}
