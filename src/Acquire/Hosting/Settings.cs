using System.Text.Json;
using System.Text.Json.Serialization;
using Acquire.Bench.Trust;
using Acquire.Formats.Json;

namespace Acquire.Hosting;

/// <summary>
/// What the user settled for a data folder once and for all; kept in its <c>settings.json</c>, which may be edited by hand.
/// </summary>
/// <param name="RequireCheck">
/// What happens to strips that are read without a calibration check in force; null when the user never said.
/// </param>
/// <param name="VerdictLevel">How sure a verdict must be, above 0.5 and below 1; null when the user never said.</param>
internal sealed record Settings(CheckRequirement? RequireCheck = null, double? VerdictLevel = null)
{
    private static readonly JsonSerializerOptions Options = new(JsonText.Edited)
    {
        PropertyNameCaseInsensitive = true,
        NumberHandling = JsonNumberHandling.AllowReadingFromString,
    };

    /// <summary>The settings of a data folder; those of the program where there is no file.</summary>
    /// <exception cref="BenchException">The file is wrong; the message says file, line and what was expected.</exception>
    public static Settings Of(string dataFolder)
    {
        var file = FileOf(dataFolder);
        try
        {
            return File.Exists(file)
                ? JsonSerializer.Deserialize<Settings>(File.ReadAllText(file), Options) ?? new Settings()
                : new Settings();
        }
        catch (JsonException e)
        {
            throw new BenchException(
                $"{file}, line {(e.LineNumber ?? 0) + 1}: these are no settings. Expected JSON such as "
                + $"{{ \"requireCheck\": \"mark\" }}, with warn, mark or block. "
                + "Mend the file or delete it.");
        }
    }

    /// <summary>Writes the settings, whole or not at all.</summary>
    public void Save(string dataFolder)
    {
        var file = FileOf(dataFolder);
        _ = Directory.CreateDirectory(dataFolder);
        File.WriteAllText(file + ".new", JsonSerializer.Serialize(this, Options));
        File.Move(file + ".new", file, overwrite: true);
    }

    private static string FileOf(string dataFolder) => Path.Combine(dataFolder, "settings.json");
}

/// <summary>Where the user's data is.</summary>
internal static class DataFolder
{
    /// <summary>The folder named on the command line, or the user's own.</summary>
    public static string Resolve(string? named) => Path.GetFullPath(named ?? Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify), "acquire"));

    public static string Profiles(string dataFolder) => Path.Combine(dataFolder, "profiles");

    public static string Processes(string dataFolder) => Path.Combine(dataFolder, "processes");

    public static string Logs(string dataFolder) => Path.Combine(dataFolder, "logs");
}
