namespace Acquire.Instruments.Simulation;

/// <summary>A symbolic link at a path of the user's choice.</summary>
internal static class SymbolicLink
{
    /// <summary>Makes the link, in place of an older link; gives its full path.</summary>
    /// <exception cref="IOException">There is something else at the path, or it cannot be written.</exception>
    public static string Put(string link, string target)
    {
        var full = Path.GetFullPath(link);
        if (new FileInfo(full).LinkTarget is not null)
        {
            File.Delete(full);
        }
        else if (Path.Exists(full))
        {
            throw new IOException($"{full} is there already and is no link; name another path for the link.");
        }

        _ = File.CreateSymbolicLink(full, target);
        return full;
    }

    /// <summary>Removes the link, if it still leads to the target.</summary>
    public static void Remove(string link, string target)
    {
        try
        {
            if (new FileInfo(link).LinkTarget == target)
            {
                File.Delete(link);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The link leads nowhere now; whoever opens it is told so.
        }
    }
}
