namespace Acquire.Storage.Files;

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

/// <summary>The names by which a store knows its own files, in whatever folder.</summary>
public static class StoreNames
{
    private static readonly string[] Folders = ["backups", "sessions"];

    /// <summary>Whether a store would take a file of this name for its own: database, logs, locks, what was set aside, backups.</summary>
    /// <param name="path">Full path, behind all links.</param>
    public static bool Owns(string path)
    {
        var (name, folder) = (Path.GetFileName(path), Path.GetDirectoryName(path) ?? "");
        return name.StartsWith("acquire.db", StringComparison.OrdinalIgnoreCase)
            || name.Equals("acquire.lock", StringComparison.OrdinalIgnoreCase)
            || name.StartsWith("acquire-set-aside-", StringComparison.OrdinalIgnoreCase)
            || name.StartsWith("acquire-before-upgrade-", StringComparison.OrdinalIgnoreCase)
            || (Folders.Contains(Path.GetFileName(folder))
                && File.Exists(Path.Combine(Path.GetDirectoryName(folder) ?? "", "acquire.lock")));
    }
}

/// <summary>
/// One lock for all that happens to the file as a whole: users share <c>acquire.lock</c>; who makes the store, brings it to this version or
/// puts another in its place has it alone. The system gives it free when its process ends, however it ends.
/// </summary>
internal static class StoreLock
{
    /// <summary>How long to wait before another try.</summary>
    public static readonly TimeSpan Step = TimeSpan.FromMilliseconds(20);

    private const string Name = "acquire.lock";

    /// <summary>Shared with all that use the store; null while another has it alone. Dispose to leave.</summary>
    public static FileStream? Use(string folder) => Take(folder, FileAccess.Read, FileShare.Read);

    /// <summary>Alone; null while another has it. Dispose to give it free.</summary>
    public static FileStream? Alone(string folder) => Take(folder, FileAccess.ReadWrite, FileShare.None);

    /// <summary>Why <see cref="Alone"/> gave none.</summary>
    public static StoreException InUse(string folder) => new(
        StoreFault.Busy, $"{folder}: a program has the store open. End every acquire that uses this data folder, then try again.");

    private static FileStream? Take(string folder, FileAccess access, FileShare share)
    {
        var path = Path.Combine(folder, Name);
        try
        {
            return new FileStream(path, UserOnly.Options(FileMode.OpenOrCreate, access, share));
        }
        catch (IOException) when (File.Exists(path))
        {
            return null;
        }
    }
}
