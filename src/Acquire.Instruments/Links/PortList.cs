using System.ComponentModel;
using System.IO.Ports;

namespace Acquire.Instruments.Links;

/// <summary>A serial port that the system lists.</summary>
/// <param name="Path">What to name it by: a name that stays the same after replugging, where there is one.</param>
/// <param name="Device">The device behind it; the same as the path where the path is no link.</param>
public sealed record ListedPort(string Path, string Device)
{
    /// <summary>For example <c>/dev/serial/by-id/usb-adapter-port0 (/dev/ttyUSB0)</c>.</summary>
    public override string ToString() => Path == Device ? Path : $"{Path} ({Device})";
}

/// <summary>The serial ports that there are: stable names first, then those that the system counts. It is a hint, not a limit:
/// pseudo-terminals and some adapters are never listed, and a listed port may have nothing behind it.</summary>
public static class PortList
{
    internal const string StableNames = "/dev/serial/by-id";

    /// <summary>Lists the ports of this computer; empty when the system cannot say.</summary>
    public static ImmutableArray<ListedPort> Find() => Merge(StableLinks(StableNames), CountedPorts());

    /// <summary>The name under which a port that is plugged in now is found again although the system may count it
    /// otherwise then; the address itself where there is none.</summary>
    /// <param name="folder">The folder of stable names.</param>
    internal static LinkAddress StableNameOf(LinkAddress address, string folder) =>
        address is LinkAddress.Serial { Path: var path } && !path.StartsWith(folder, StringComparison.Ordinal)
        && StableLinks(folder).FirstOrDefault(p => p.Device == PortPath.Resolve(path)) is { } stable
            ? new LinkAddress.Serial(stable.Path)
            : address;

    /// <summary>Stable names, then the other ports, each device once.</summary>
    internal static ImmutableArray<ListedPort> Merge(IEnumerable<ListedPort> stable, IEnumerable<string> counted)
    {
        ImmutableArray<ListedPort> first = [.. stable.OrderBy(p => p.Path, StringComparer.Ordinal)];
        var rest = counted
            .Distinct(StringComparer.Ordinal)
            .Where(name => first.All(p => p.Device != name))
            // The shorter name first, so that COM10 comes after COM9.
            .Order(Comparer<string>.Create(static (x, y) => x.Length != y.Length ? x.Length - y.Length : string.CompareOrdinal(x, y)));
        return [.. first, .. rest.Select(name => new ListedPort(name, name))];
    }

    /// <summary>The links of a folder with the devices that they lead to; empty when there is no such folder.</summary>
    internal static ImmutableArray<ListedPort> StableLinks(string folder)
    {
        try
        {
            return [.. Directory.GetFileSystemEntries(folder).Select(link => new ListedPort(link, PortPath.Resolve(link)))];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }

    private static string[] CountedPorts()
    {
        try
        {
            return SerialPort.GetPortNames();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or PlatformNotSupportedException or Win32Exception)
        {
            return [];
        }
    }
}

/// <summary>What the adapter says of itself.</summary>
public static class PortDescription
{
    private const string Terminals = "/sys/class/tty";

    /// <summary>The maker's and the product's words of the adapter behind a port; null where the system does not know them.</summary>
    public static string? Of(ListedPort port) => Of(port.Device, Terminals);

    /// <summary>Looks from the terminal's folder upwards to the adapter, which has a file <c>product</c> (Linux, sysfs).</summary>
    internal static string? Of(string device, string terminals)
    {
        var folder = new DirectoryInfo(PortPath.Resolve(Path.Combine(terminals, Path.GetFileName(device), "device")));
        for (var depth = 0; depth < 6 && folder is { Exists: true }; depth++, folder = folder.Parent)
        {
            // The names belong to the adapter, some levels above the terminal that it makes.
            if (Read(folder, "product") is { } product)
            {
                return string.Join(' ', new[] { Read(folder, "manufacturer"), product }.OfType<string>());
            }
        }

        return null;
    }

    private static string? Read(DirectoryInfo folder, string file)
    {
        try
        {
            return File.ReadAllText(Path.Combine(folder.FullName, file)).Trim() is { Length: > 0 } text ? text : null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}

/// <summary>From the name of a port to the device behind it.</summary>
internal static class PortPath
{
    /// <summary>The device at the end of all links. A name that is no path, such as <c>COM3</c>, is given back in capitals.</summary>
    public static string Resolve(string path)
    {
        if (OperatingSystem.IsWindows() && !Path.IsPathRooted(path))
        {
            return path.ToUpperInvariant();
        }

        var full = Path.GetFullPath(path);
        try
        {
            return File.ResolveLinkTarget(full, returnFinalTarget: true)?.FullName ?? full;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return full;
        }
    }
}
