using System.Runtime.InteropServices;

namespace Acquire.Instruments.Links;

/// <summary>What Linux says about a file: its kind, owner, permissions and identity.</summary>
/// <param name="Mode">Kind and permission bits.</param>
/// <param name="UserId">Number of the owner.</param>
/// <param name="GroupId">Number of the group.</param>
/// <param name="Identity">Tells one device node from another that later takes the same path.</param>
/// <param name="Changed">When it was made, or was given to somebody, as seconds and nanoseconds since 1970. Numbers are used again, so
/// this tells a node that came back from the one that went.</param>
internal readonly partial record struct DeviceNode(
    ushort Mode, uint UserId, uint GroupId, (ulong Inode, ulong Device) Identity, (long Seconds, uint Nanoseconds) Changed)
{
    private const int AtWorkingFolder = -100;
    private const uint BasicFacts = 0x7ff;
    private const int KindMask = 0xF000;
    private const int CharacterDevice = 0x2000;

    /// <summary>Whether it is a character device, as every serial port is.</summary>
    public bool IsCharacterDevice => (Mode & KindMask) == CharacterDevice;

    /// <summary>Looks at a path, following links. Null when it is not there, or when the system is not Linux.</summary>
    public static DeviceNode? Of(string path)
    {
        if (!OperatingSystem.IsLinux() || StatX(AtWorkingFolder, path, 0, BasicFacts, out var raw) != 0)
        {
            return null;
        }

        return new DeviceNode(
            raw.Mode, raw.UserId, raw.GroupId, (raw.Inode, ((ulong)raw.DeviceMajor << 32) | raw.DeviceMinor),
            (raw.ChangedSeconds, raw.ChangedNanoseconds));
    }

    [LibraryImport("libc", EntryPoint = "statx", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int StatX(int folder, string path, int flags, uint mask, out Raw raw);

    /// <summary>struct statx of the Linux kernel, the same on every architecture (statx(2)).</summary>
    [StructLayout(LayoutKind.Explicit, Size = 256)]
    private struct Raw
    {
        [FieldOffset(20)] public uint UserId;

        [FieldOffset(24)] public uint GroupId;

        [FieldOffset(28)] public ushort Mode;

        [FieldOffset(32)] public ulong Inode;

        [FieldOffset(96)] public long ChangedSeconds;

        [FieldOffset(104)] public uint ChangedNanoseconds;

        [FieldOffset(128)] public uint DeviceMajor;

        [FieldOffset(132)] public uint DeviceMinor;
    }
}

/// <summary>Asks the system whether this process may read and write a file.</summary>
internal static partial class FileAccessCheck
{
    private const int ReadAndWrite = 4 | 2;

    /// <summary>Whether reading and writing are allowed; always yes on Windows, where opening tells.</summary>
    public static bool MayReadAndWrite(string path) => OperatingSystem.IsWindows() || Access(path, ReadAndWrite) == 0;

    [LibraryImport("libc", EntryPoint = "access", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Access(string path, int mode);
}

/// <summary>A folder that only its user can write. The system's temporary folder is open to all, so somebody else could have put a folder
/// or link of that name there first, to have this program write where it should not.</summary>
internal static partial class PrivateFolder
{
    private const UnixFileMode ForTheUser = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
    private const UnixFileMode WritableByOthers = UnixFileMode.GroupWrite | UnixFileMode.OtherWrite;

    /// <summary>Makes the folder unless it is there.</summary>
    /// <exception cref="IOException">It cannot be made, is a link, or others can write it.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be made.</exception>
    public static void Make(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            _ = Directory.CreateDirectory(folder);
            return;
        }

        var made = Directory.CreateDirectory(folder, ForTheUser);
        if (made.LinkTarget is not null || (made.UnixFileMode & WritableByOthers) != 0
            || DeviceNode.Of(folder) is { } node && node.UserId != CurrentUser())
        {
            throw new IOException($"{folder} is not a folder of this user alone");
        }
    }

    [LibraryImport("libc", EntryPoint = "geteuid")]
    private static partial uint CurrentUser();
}
