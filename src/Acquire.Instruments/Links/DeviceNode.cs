using System.Runtime.InteropServices;

namespace Acquire.Instruments.Links;

/// <summary>What Linux says about a file: its kind, owner, permissions and identity.</summary>
/// <param name="Mode">Kind and permission bits.</param>
/// <param name="UserId">Number of the owner.</param>
/// <param name="GroupId">Number of the group.</param>
/// <param name="Identity">Tells one device node from another that later takes the same path.</param>
internal readonly partial record struct DeviceNode(ushort Mode, uint UserId, uint GroupId, (ulong Inode, ulong Device) Identity)
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

        return new DeviceNode(raw.Mode, raw.UserId, raw.GroupId, (raw.Inode, ((ulong)raw.DeviceMajor << 32) | raw.DeviceMinor));
    }

    [LibraryImport("libc", EntryPoint = "statx", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int StatX(int folder, string path, int flags, uint mask, out Raw raw);

    /// <summary>struct statx of the Linux kernel, the same on every architecture (statx(2)).</summary>
    [StructLayout(LayoutKind.Explicit, Size = 256)]
    private struct Raw
    {
        [FieldOffset(20)]
        public uint UserId;

        [FieldOffset(24)]
        public uint GroupId;

        [FieldOffset(28)]
        public ushort Mode;

        [FieldOffset(32)]
        public ulong Inode;

        [FieldOffset(128)]
        public uint DeviceMajor;

        [FieldOffset(132)]
        public uint DeviceMinor;
    }
}
