namespace Acquire.Storage.Files;

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
