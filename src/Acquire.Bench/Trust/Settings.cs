using System.Text.Json;
using System.Text.Json.Serialization;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Files;
using Acquire.Formats.Json;

namespace Acquire.Bench.Trust;

/// <summary>
/// How much trust the user asks of readings and verdicts, settled for a data folder once and for all; kept in its <c>settings.json</c>,
/// which may be edited by hand.
/// </summary>
/// <param name="RequireCheck">
/// What happens to strips that are read without a calibration check in force; null when the user never said.
/// </param>
/// <param name="VerdictLevel">How sure a verdict must be, above 0.5 and below 1; null when the user never said.</param>
/// <param name="Assumed">What is taken for granted of an instrument of which too little is known; null when the user never said.</param>
public sealed record Settings(CheckRequirement? RequireCheck = null, double? VerdictLevel = null, AssumedSettings? Assumed = null)
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
                + "{ \"requireCheck\": \"mark\" }, with warn, mark or block. Mend the file or delete it.");
        }
    }

    /// <summary>The settings beside a store.</summary>
    /// <exception cref="BenchException">The file is wrong; the message says file, line and what was expected.</exception>
    public static Settings Of(AcquireStore store) => Of(Path.GetDirectoryName(store.FilePath)!);

    /// <summary>The level of verdicts: what the user says now, or else settled before, or else the usual one.</summary>
    /// <param name="said">What the user says now; null for nothing.</param>
    /// <exception cref="BenchException">It is no level.</exception>
    public double Level(double? said = null) => (said ?? VerdictLevel ?? Verdicts.UsualLevel) is > 0.5 and < 1 and var level
        ? level
        : throw new BenchException(string.Create(
            CultureInfo.InvariantCulture,
            $"{said ?? VerdictLevel} is no level of a verdict; expected a probability above 0.5 and below 1, such as 0.95."));

    /// <summary>What is taken for granted of an instrument of which too little is known.</summary>
    /// <exception cref="BenchException">A value is beyond its bounds.</exception>
    public Assumptions Assumptions() => (Assumed ?? new AssumedSettings()).ToAssumptions();

    /// <summary>Keeps the settings, whole or not at all.</summary>
    /// <exception cref="BenchException">The file cannot be written.</exception>
    public Task SaveAsync(string dataFolder, CancellationToken cancellationToken)
    {
        _ = Directory.CreateDirectory(dataFolder);
        return WholeFile.At(FileOf(dataFolder), replace: true).WriteAsync(JsonSerializer.Serialize(this, Options), cancellationToken);
    }

    private static string FileOf(string dataFolder) => Path.Combine(dataFolder, "settings.json");
}
