using System.Runtime.InteropServices;

namespace Acquire.Instruments.Links;

/// <summary>
/// A folder that only its user can write. The system's temporary folder is open to all, so somebody else could have put a folder or
/// link of that name there first, to have this program write where it should not.
/// </summary>
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
