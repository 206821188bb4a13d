using System.Text.Json;

namespace Acquire.Instruments.Links;

/// <summary>Claims a port for this program, or says who has it.</summary>
internal static class PortClaim
{
    /// <summary>Takes the lock and makes sure that no foreign process has the device open.</summary>
    /// <param name="facts">The port.</param>
    /// <param name="options">Where locks are, and under what name.</param>
    /// <param name="time">Tells since when.</param>
    /// <param name="notice">Set when no lock could be made, which does not stop the user from reading.</param>
    /// <returns>The lock, to be disposed with the port; null when none could be made.</returns>
    /// <exception cref="LinkException">Somebody else holds the port.</exception>
    public static IDisposable? Take(PortFacts facts, LinkOpenerOptions options, TimeProvider time, out string? notice)
    {
        notice = null;
        PortLock? held = null;
        try
        {
            var holder = new PortHolder(options.Command, Environment.ProcessId, facts.User, time.GetUtcNow());
            held = PortLock.Take(options.LockFolder, facts.Name, facts.ResolvedPath, holder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            notice = $"No lock could be made in {options.LockFolder} ({e.Message}); see to it that no second program opens {facts.Name}.";
        }

        // The lock stops only programs of this kind; any other one shows in the list of open files alone.
        if (OpenFileScan.Find(facts.ResolvedPath) is { } other)
        {
            held?.Dispose();
            throw new LinkException(LinkFault.InUse, $"{facts.Name} is held by {other}. End that program, or name another port.");
        }

        return held;
    }
}

/// <summary>Makes one owner per port among the programs of this kind: an exclusively opened file per device, which the system
/// releases when its process ends however it ends, and beside it a note that says who the owner is. The system's own
/// exclusive mode is not enough: it does not stop root.</summary>
internal sealed class PortLock : IDisposable
{
    private readonly FileStream _lock;
    private readonly string _notePath;

    private PortLock(FileStream held, string notePath) => (_lock, _notePath) = (held, notePath);

    /// <summary>Takes the lock; what a program that is gone left behind is taken over.</summary>
    /// <exception cref="LinkException">Another holds it; the message says who.</exception>
    /// <exception cref="IOException">The lock folder cannot be used.</exception>
    /// <exception cref="UnauthorizedAccessException">The lock folder may not be used.</exception>
    public static PortLock Take(string folder, string portName, string resolvedPath, PortHolder holder)
    {
        PrivateFolder.Make(folder);
        var stem = Path.Combine(folder, Uri.EscapeDataString(resolvedPath));
        var (lockPath, notePath) = (stem + ".lock", stem + ".json");
        FileStream held;
        try
        {
            // The system frees this lock however its holder dies; a file that only says "held" would stay behind.
            held = new FileStream(lockPath, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when (File.Exists(lockPath))
        {
            var by = ReadNote(notePath)?.ToString() ?? "a program that has not said who it is";
            throw new LinkException(LinkFault.InUse, $"{portName} is held by {by}. End that program, or name another port.", e);
        }

        try
        {
            File.WriteAllText(notePath, JsonSerializer.Serialize(holder));
            return new PortLock(held, notePath);
        }
        catch
        {
            held.Dispose();
            throw;
        }
    }

    /// <summary>Gives the port free. The lock file stays: to delete it could pull it from under the next owner.</summary>
    public void Dispose()
    {
        try
        {
            // Before the lock goes: after it, the note may be the next holder's.
            File.Delete(_notePath);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A note without a lock is ignored by everybody.
        }
        finally
        {
            _lock.Dispose();
        }
    }

    private static PortHolder? ReadNote(string path)
    {
        try
        {
            return JsonSerializer.Deserialize<PortHolder>(File.ReadAllText(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or JsonException)
        {
            return null;
        }
    }
}

/// <summary>Who holds a port, as far as it is known.</summary>
/// <param name="Program">The command as the user would type it, such as <c>acquire read</c>, or the name of a foreign process.</param>
/// <param name="ProcessId">Number of the process.</param>
/// <param name="User">The user, or null when unknown.</param>
/// <param name="Since">Since when, or null when unknown.</param>
internal sealed record PortHolder(string Program, int ProcessId, string? User = null, DateTimeOffset? Since = null)
{
    /// <summary>For example <c>acquire read, process 1234, user eva, since 2026-03-01 18:04:05Z</c>.</summary>
    public override string ToString()
    {
        var user = User is null ? string.Empty : $", user {User}";
        var since = Since is { } at ? FormattableString.Invariant($", since {at.ToUniversalTime():u}") : string.Empty;
        return FormattableString.Invariant($"{Program}, process {ProcessId}{user}{since}");
    }
}

/// <summary>Looks through Linux' list of open files for other processes that have a device open. Finds those of the same user, and
/// everybody's when run as root, which is the one whom the system's exclusive mode does not stop. A process that also holds the other end
/// of a pseudo-terminal is the instrument, not a rival.</summary>
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
