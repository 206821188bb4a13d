using System.IO.Ports;

namespace Acquire.Instruments.Links;

/// <summary>What can be known about a port without opening it.</summary>
/// <param name="Name">The port as the user named it.</param>
/// <param name="ResolvedPath">The device at the end of all links.</param>
/// <param name="Exists">Whether there is something.</param>
/// <param name="IsCharacterDevice">Whether it is a character device; null where the system is not asked.</param>
/// <param name="MayOpen">Whether this user may read and write it.</param>
/// <param name="Ownership">Whose it is; null where the system is not asked.</param>
/// <param name="User">The user who runs this program.</param>
/// <param name="Ports">The ports that there are.</param>
internal sealed record PortFacts(
    string Name, string ResolvedPath, bool Exists, bool? IsCharacterDevice, bool MayOpen, PortOwnership? Ownership,
    string User, ImmutableArray<ListedPort> Ports);

/// <summary>Whose a device is.</summary>
/// <param name="Group">The group that owns it.</param>
/// <param name="GroupMayOpen">Whether its group may read and write it.</param>
/// <param name="UserIsListed">Whether the list of groups has the user in it, in force or not yet.</param>
internal sealed record PortOwnership(string Group, bool GroupMayOpen, bool UserIsListed);

/// <summary>Gathers the facts about a port from the system.</summary>
internal static class PortFactsReader
{
    private const int GroupReadWrite = 0x30; // octal 060
    private const string GroupFile = "/etc/group";

    /// <summary>Looks at a port without opening it.</summary>
    public static PortFacts Read(string name)
    {
        var resolved = PortPath.Resolve(name);
        var exists = OperatingSystem.IsWindows()
            ? SerialPort.GetPortNames().Contains(resolved, StringComparer.OrdinalIgnoreCase)
            : Path.Exists(resolved);
        var node = exists ? DeviceNode.Of(resolved) : null;
        var ownership = node is { } n ? OwnershipOf(n, Environment.UserName) : null;
        return new PortFacts(
            name, resolved, exists, node?.IsCharacterDevice, exists && FileAccessCheck.MayReadAndWrite(resolved), ownership,
            Environment.UserName, exists ? [] : PortList.Find());
    }

    private static PortOwnership OwnershipOf(DeviceNode node, string user)
    {
        // The file and not the groups of this session: who was added and has not logged in again is in the file only.
        var groups = UserGroups.Read(GroupFile);
        var group = groups.FirstOrDefault(g => g.Id == node.GroupId);
        return new PortOwnership(
            group?.Name ?? node.GroupId.ToString(CultureInfo.InvariantCulture),
            (node.Mode & GroupReadWrite) == GroupReadWrite, group?.Members.Contains(user, StringComparer.Ordinal) ?? false);
    }
}

/// <summary>Says why a port cannot be opened, before it is tried: the platform reports a missing port, a plain file, a
/// busy port and a forbidden one all in the same words.</summary>
internal static class PortDiagnosis
{
    /// <summary>The trouble, or null when there is none to be seen.</summary>
    public static LinkException? Of(PortFacts facts) => facts switch
    {
        { Exists: false } => new LinkException(LinkFault.NotFound, $"{Missing(facts)} {Listed(facts)}"),
        { IsCharacterDevice: false } => new LinkException(
            LinkFault.BadSettings, $"{Named(facts)} is not a serial port but a file or folder. To read a capture file, replay it instead."),
        { MayOpen: false } => new LinkException(LinkFault.Denied, Denied(facts)),
        _ => null,
    };

    private static string Missing(PortFacts facts) =>
        facts.Name == facts.ResolvedPath
            ? $"There is no port {facts.Name}."
            : $"There is no port {facts.Name}: it leads to {facts.ResolvedPath}, which is not there.";

    private static string Listed(PortFacts facts) => facts.Ports.IsEmpty
        ? "No serial port was found at all: check that the adapter is plugged in and its driver loaded."
        : $"Ports that there are: {string.Join(", ", facts.Ports)}.";

    private static string Denied(PortFacts facts) => facts.Ownership switch
    {
        { GroupMayOpen: true, UserIsListed: true } own =>
            $"You may not open {Named(facts)} yet: you are in the group {own.Group}, which it belongs to, but this session began before "
            + "that. Log out and in again.",
        { GroupMayOpen: true } own =>
            $"You may not open {Named(facts)}: the port belongs to the group {own.Group}. Add yourself with: sudo usermod -aG {own.Group} "
            + $"{facts.User}, then log out and in again.",
        not null =>
            $"You may not open {Named(facts)}: only its owner may. Ask the administrator for a udev rule that gives it to a group that you "
            + "are in.",
        null => $"You may not open {Named(facts)}. Ask the administrator for the right to read and write it.",
    };

    private static string Named(PortFacts facts) =>
        facts.Name == facts.ResolvedPath ? facts.Name : $"{facts.Name} ({facts.ResolvedPath})";
}

/// <param name="Id">Its number.</param>
/// <param name="Members">The users listed in it.</param>
internal sealed record UserGroup(string Name, uint Id, ImmutableArray<string> Members);

/// <summary>Reads the list of groups, group(5): <c>name:password:number:user,user</c>.</summary>
internal static class UserGroups
{
    /// <summary>The groups of a file; none when it cannot be read, and lines of another form are left out.</summary>
    public static ImmutableArray<UserGroup> Read(string path)
    {
        try
        {
            return Parse(File.ReadAllLines(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    /// <summary>The groups of a list of lines.</summary>
    public static ImmutableArray<UserGroup> Parse(IEnumerable<string> lines) =>
    [
        .. from line in lines
           let fields = line.Split(':')
           where fields.Length == 4 && uint.TryParse(fields[2], NumberStyles.None, CultureInfo.InvariantCulture, out _)
           select new UserGroup(
               fields[0], uint.Parse(fields[2], CultureInfo.InvariantCulture),
               [.. fields[3].Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)]),
    ];
}
