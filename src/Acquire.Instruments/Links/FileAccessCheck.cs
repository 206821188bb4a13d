using System.Runtime.InteropServices;

namespace Acquire.Instruments.Links;

/// <summary>Asks the system whether this process may read and write a file.</summary>
internal static partial class FileAccessCheck
{
    private const int ReadAndWrite = 4 | 2;

    /// <summary>Whether reading and writing are allowed; always yes on Windows, where opening tells.</summary>
    public static bool MayReadAndWrite(string path) => OperatingSystem.IsWindows() || Access(path, ReadAndWrite) == 0;

    [LibraryImport("libc", EntryPoint = "access", StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Access(string path, int mode);
}
