namespace Acquire.Storage.Files;

/// <summary>The user's data folder.</summary>
internal static class DataFolder
{
    /// <summary>Makes the folder and shuts it to others, with what belongs to the store in it; gives its full path.</summary>
    /// <exception cref="StoreException">It cannot be made.</exception>
    public static string Prepare(string folder)
    {
        try
        {
            var full = Path.GetFullPath(folder);
            UserOnly.DataFolder(full);
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
