namespace Acquire.Hosting;

/// <summary>Where the user's data is.</summary>
internal static class DataFolder
{
    /// <summary>The folder named on the command line, or the user's own.</summary>
    public static string Resolve(string? named) => Path.GetFullPath(named ?? Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "acquire"));

    /// <summary>The user's own device profiles in a data folder.</summary>
    public static string Profiles(string dataFolder) => Path.Combine(dataFolder, "profiles");

    /// <summary>The user's own process sheets in a data folder.</summary>
    public static string Processes(string dataFolder) => Path.Combine(dataFolder, "processes");

    /// <summary>The logs in a data folder.</summary>
    public static string Logs(string dataFolder) => Path.Combine(dataFolder, "logs");
}
