namespace Acquire.Storage.Files;

/// <summary>The user's data folder.</summary>
internal static class DataFolder
{
    private const UnixFileMode UserOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;

    /// <summary>Makes the folder, open to the user only where the system knows such a thing, and gives its full path.</summary>
    /// <exception cref="StoreException">It cannot be made.</exception>
    public static string Prepare(string folder)
    {
        try
        {
            var full = Path.GetFullPath(folder);
            if (!Directory.Exists(full))
            {
                _ = OperatingSystem.IsWindows() ? Directory.CreateDirectory(full) : Directory.CreateDirectory(full, UserOnly);
            }

            return full;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new StoreException(
                StoreFault.FolderNotUsable,
                $"The data folder '{folder}' cannot be made: {e.Message} Choose another with --data DIR.",
                e);
        }
    }
}
