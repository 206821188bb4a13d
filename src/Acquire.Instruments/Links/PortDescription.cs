namespace Acquire.Instruments.Links;

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
