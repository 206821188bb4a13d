using System.IO.Ports;

namespace Acquire.Instruments.Links;

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
            name,
            resolved,
            exists,
            node?.IsCharacterDevice,
            exists && FileAccessCheck.MayReadAndWrite(resolved),
            ownership,
            Environment.UserName,
            exists ? [] : PortList.Find());
    }

    private static PortOwnership OwnershipOf(DeviceNode node, string user)
    {
        var groups = UserGroups.Read(GroupFile);
        var group = groups.FirstOrDefault(g => g.Id == node.GroupId);
        return new PortOwnership(
            group?.Name ?? node.GroupId.ToString(System.Globalization.CultureInfo.InvariantCulture),
            (node.Mode & GroupReadWrite) == GroupReadWrite,
            group?.Members.Contains(user, StringComparer.Ordinal) ?? false);
    }
}
