namespace Acquire.Tests.House;

/// <summary>The source tree that the tests were built from.</summary>
internal static class Repository
{
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    private static string Find(string from)
    {
        for (var folder = new DirectoryInfo(from); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Acquire.sln")))
            {
                return folder.FullName;
            }
        }

        throw new DirectoryNotFoundException($"No Acquire.sln above {from}.");
    }
}
