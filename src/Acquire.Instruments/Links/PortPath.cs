namespace Acquire.Instruments.Links;

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
