namespace Acquire.Storage.Files;

/// <summary>
/// Readings and names of people are the user's own: files 0600, folders 0700, whatever the umask says and whoever made them. Windows keeps
/// a user's folder private by itself.
/// </summary>
public static class UserOnly
{
    private const UnixFileMode ForFiles = UnixFileMode.UserRead | UnixFileMode.UserWrite;
    private const UnixFileMode ForFolders = ForFiles | UnixFileMode.UserExecute;
    private static readonly string[] Folders = ["backups", "sessions", "logs"];

    /// <summary>How to open a file that is the user's own from its first byte on.</summary>
    public static FileStreamOptions Options(FileMode mode, FileAccess access, FileShare share)
    {
        var options = new FileStreamOptions { Mode = mode, Access = access, Share = share };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = ForFiles;
        }

        return options;
    }

    public static void Make(string file) => new FileStream(file, Options(FileMode.CreateNew, FileAccess.Write, FileShare.None)).Dispose();

    /// <summary>Makes a folder unless it is there, and shuts it to others.</summary>
    public static void Folder(string folder)
    {
        if (OperatingSystem.IsWindows())
        {
            _ = Directory.CreateDirectory(folder);
        }
        else if (Directory.CreateDirectory(folder, ForFolders).UnixFileMode is var mode && !mode.HasFlag(UnixFileMode.StickyBit))
        {
            // A folder that is sticky is everybody's, such as the system's for temporary files, and not ours to shut.
            Shut(folder, mode, ForFolders);
        }
    }

    /// <summary>Shuts a data folder to others: the folder, the store with all that belongs to it, its backups, sessions and logs.</summary>
    public static void DataFolder(string folder)
    {
        Folder(folder);
        Files(folder, "acquire*");
        foreach (var inside in Folders.Select(name => Path.Combine(folder, name)).Where(Directory.Exists))
        {
            Folder(inside);
            Files(inside, "*");
        }
    }

    private static void Files(string folder, string pattern)
    {
        foreach (var file in OperatingSystem.IsWindows() ? [] : new DirectoryInfo(folder).EnumerateFiles(pattern))
        {
            Shut(file.FullName, file.UnixFileMode, ForFiles);
        }
    }

    private static void Shut(string path, UnixFileMode mode, UnixFileMode most)
    {
        if ((mode & ~most) == 0 || OperatingSystem.IsWindows())
        {
            return;
        }

        try
        {
            File.SetUnixFileMode(path, mode & most);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException)
        {
            // Somebody else's file, or one that is gone meanwhile: the store still opens, for whoever may read it.
        }
    }
}
