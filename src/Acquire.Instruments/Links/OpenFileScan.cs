namespace Acquire.Instruments.Links;

/// <summary>
/// Looks through Linux' list of open files for other processes that have a device open. Finds those of the same user, and
/// everybody's when run as root, which is the one whom the system's exclusive mode does not stop. A process that also holds the other
/// end of a pseudo-terminal is the instrument, not a rival.
/// </summary>
internal static class OpenFileScan
{
    private const string Processes = "/proc";
    private const string PseudoTerminals = "/dev/pts/";

    /// <summary>The first other process that has the device open, or null; always null on other systems than Linux.</summary>
    public static PortHolder? Find(string resolvedPath)
    {
        if (!OperatingSystem.IsLinux())
        {
            return null;
        }

        foreach (var folder in Entries(Processes))
        {
            if (int.TryParse(Path.GetFileName(folder), NumberStyles.None, CultureInfo.InvariantCulture, out var id)
                && id != Environment.ProcessId
                && Entries(Path.Combine(folder, "fd")).Any(file => LinkTarget(file) == resolvedPath)
                && !HoldsOtherEnd(folder, resolvedPath))
            {
                return new PortHolder(CommandName(folder), id);
            }
        }

        return null;
    }

    /// <summary>Whether the process holds the master whose slave the device is; the kernel gives the number with the open file.</summary>
    private static bool HoldsOtherEnd(string folder, string resolvedPath) =>
        resolvedPath.StartsWith(PseudoTerminals, StringComparison.Ordinal)
        && Entries(Path.Combine(folder, "fdinfo")).Any(info => Try(() => File.ReadAllLines(info))?
            .Any(line => line.StartsWith("tty-index:", StringComparison.Ordinal)
                && line["tty-index:".Length..].Trim() == resolvedPath[PseudoTerminals.Length..]) == true);

    // Processes end while they are looked at, and others' files may not be seen: both are no news.
    private static string[] Entries(string folder) => Try(() => Directory.GetFileSystemEntries(folder)) ?? [];

    private static string? LinkTarget(string file) => Try(() => new FileInfo(file).LinkTarget);

    private static string CommandName(string folder) =>
        Try(() => File.ReadAllText(Path.Combine(folder, "comm")).Trim()) is { Length: > 0 } name ? name : "a program without a name";

    private static T? Try<T>(Func<T?> look)
        where T : class
    {
        try
        {
            return look();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}
