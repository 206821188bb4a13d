using System.Runtime.InteropServices;
using System.Text;
using Microsoft.Win32.SafeHandles;

namespace Acquire.Instruments.Simulation;

/// <summary>The calls into libc that make a pseudo-terminal (POSIX posix_openpt and its family; termios).</summary>
internal static partial class PseudoTerminalCalls
{
    private const int ReadWrite = 0x2;
    private const int SetNow = 0;
    private const int LargestSettings = 256; // struct termios takes 60 bytes on Linux and 72 on macOS
    private const int LongestName = 256;
    private const short Readable = 0x1;
    private const short HungUp = 0x10;

    private static int NoControl => OperatingSystem.IsMacOS() ? 0x20000 : 0x100;

    // macOS takes no other flags here; there a write may block for a moment.
    private static int MasterFlags => OperatingSystem.IsMacOS() ? ReadWrite | NoControl : ReadWrite | NoControl | 0x800 | 0x80000;

    private static int TryAgain => OperatingSystem.IsMacOS() ? 35 : 11; // EAGAIN

    /// <summary>Makes a pair, in raw mode and with nobody at the other end, and gives this end and the path of the other.</summary>
    /// <exception cref="IOException">The system refuses.</exception>
    public static (SafeFileHandle Master, string Path) Open()
    {
        var master = OpenMaster(MasterFlags);
        try
        {
            if (master.IsInvalid || Grant(master) != 0 || Unlock(master) != 0)
            {
                throw Failure();
            }

            var name = new byte[LongestName];
            if (NameOf(master, name, (nuint)name.Length) != 0)
            {
                throw Failure();
            }

            var path = Encoding.UTF8.GetString(name, 0, Array.IndexOf(name, (byte)0));
            OpenOnce(path);
            return (master, path);
        }
        catch
        {
            master.Dispose();
            throw;
        }
    }

    /// <summary>Waits a while for bytes; says whether there are some, and whether somebody has the other end open. Blocks.</summary>
    public static (bool Readable, bool Listener) Wait(SafeFileHandle master, int milliseconds)
    {
        var added = false;
        master.DangerousAddRef(ref added);
        try
        {
            var state = new PollState { Handle = (int)master.DangerousGetHandle(), Wanted = Readable };
            var ready = Poll(ref state, 1, milliseconds) > 0;
            return (ready && (state.Found & Readable) != 0, (state.Found & HungUp) == 0);
        }
        finally
        {
            master.DangerousRelease();
        }
    }

    /// <summary>Waits without looking at anything. Blocks.</summary>
    public static void Pause(int milliseconds)
    {
        var nothing = default(PollState);
        _ = Poll(ref nothing, 0, milliseconds);
    }

    /// <summary>Reads what is there; 0 when there is nothing, or when nobody has the other end open.</summary>
    public static int Read(SafeFileHandle master, byte[] buffer) => (int)Math.Max(0, ReadBytes(master, buffer, (nuint)buffer.Length));

    /// <summary>Writes as much as there is room for, which may be nothing.</summary>
    /// <exception cref="IOException">The pseudo-terminal is broken.</exception>
    public static int Write(SafeFileHandle master, ReadOnlySpan<byte> bytes)
    {
        var count = (int)WriteBytes(master, bytes, (nuint)bytes.Length);
        return count >= 0 ? count : Marshal.GetLastPInvokeError() == TryAgain ? 0 : throw Failure();
    }

    // Two birds: raw mode, so that nothing is echoed back before the listener has set the line; and after one opening and
    // closing the system reports "hung up" whenever nobody is there, which it does not before the first.
    private static void OpenOnce(string path)
    {
        using var other = OpenPath(path, ReadWrite | NoControl);
        var settings = new byte[LargestSettings];
        if (other.IsInvalid || GetSettings(other, settings) != 0)
        {
            throw Failure();
        }

        MakeRaw(settings);
        if (SetSettings(other, SetNow, settings) != 0)
        {
            throw Failure();
        }
    }

    private static IOException Failure() => new(Marshal.GetPInvokeErrorMessage(Marshal.GetLastPInvokeError()));

    [StructLayout(LayoutKind.Sequential)]
    private struct PollState
    {
        public int Handle;
        public short Wanted;
        public short Found;
    }

    [LibraryImport("libc", EntryPoint = "posix_openpt", SetLastError = true)]
    private static partial SafeFileHandle OpenMaster(int flags);

    [LibraryImport("libc", EntryPoint = "grantpt", SetLastError = true)]
    private static partial int Grant(SafeFileHandle master);

    [LibraryImport("libc", EntryPoint = "unlockpt", SetLastError = true)]
    private static partial int Unlock(SafeFileHandle master);

    [LibraryImport("libc", EntryPoint = "ptsname_r", SetLastError = true)]
    private static partial int NameOf(SafeFileHandle master, [Out] byte[] name, nuint length);

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial SafeFileHandle OpenPath(string path, int flags);

    [LibraryImport("libc", EntryPoint = "tcgetattr", SetLastError = true)]
    private static partial int GetSettings(SafeFileHandle terminal, [Out] byte[] settings);

    [LibraryImport("libc", EntryPoint = "tcsetattr", SetLastError = true)]
    private static partial int SetSettings(SafeFileHandle terminal, int when, byte[] settings);

    [LibraryImport("libc", EntryPoint = "cfmakeraw")]
    private static partial void MakeRaw([In, Out] byte[] settings);

    [LibraryImport("libc", EntryPoint = "poll", SetLastError = true)]
    private static partial int Poll(ref PollState states, nuint count, int milliseconds);

    [LibraryImport("libc", EntryPoint = "read", SetLastError = true)]
    private static partial nint ReadBytes(SafeFileHandle master, [Out] byte[] buffer, nuint count);

    [LibraryImport("libc", EntryPoint = "write", SetLastError = true)]
    private static partial nint WriteBytes(SafeFileHandle master, ReadOnlySpan<byte> bytes, nuint count);
}
