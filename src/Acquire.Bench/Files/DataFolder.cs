namespace Acquire.Bench.Files;

/// <summary>Where the user's data is, and what lies where in it.</summary>
public static class DataFolder
{
    /// <summary>The folder that is named, or the user's own.</summary>
    public static string Resolve(string? named) => Path.GetFullPath(named ?? Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "acquire"));

    public static string Profiles(string dataFolder) => Path.Combine(dataFolder, "profiles");

    public static string Processes(string dataFolder) => Path.Combine(dataFolder, "processes");

    public static string Logs(string dataFolder) => Path.Combine(dataFolder, "logs");
}
