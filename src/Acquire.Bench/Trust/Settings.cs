using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Files;
using Acquire.Formats.Json;
using Acquire.Storage.Files;

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
    private const int MostTries = 500;
    private static readonly TimeSpan BetweenTries = TimeSpan.FromMilliseconds(20);

    private static readonly JsonSerializerOptions Options = new(JsonText.Edited)
    {
        PropertyNameCaseInsensitive = true,
        NumberHandling = JsonNumberHandling.AllowReadingFromString,
    };

    /// <summary>What the file said when these were read, so that only what was changed since is written.</summary>
    private Settings? _asRead;

    /// <summary>The settings of a data folder; those of the program where there is no file.</summary>
    /// <exception cref="BenchException">The file is wrong; the message says file, line and what was expected.</exception>
    public static Settings Of(string dataFolder)
    {
        var file = FileOf(dataFolder);
        try
        {
            var read = File.Exists(file)
                ? JsonSerializer.Deserialize<Settings>(File.ReadAllText(file), Options) ?? new Settings()
                : new Settings();
            return read with { _asRead = read };
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

    /// <summary>
    /// Keeps what was changed since they were read, whole or not at all. What another program has settled meanwhile stays, unless it is
    /// the same setting.
    /// </summary>
    /// <exception cref="BenchException">The file cannot be written, or others do not cease to write it.</exception>
    public async Task SaveAsync(string dataFolder, CancellationToken cancellationToken)
    {
        UserOnly.Folder(dataFolder);
        await using var alone = await LockAsync(dataFolder, cancellationToken);
        var settled = Json(Of(dataFolder));
        Carry(Json(_asRead ?? new Settings()), Json(this), settled);
        await WholeFile.At(FileOf(dataFolder), replace: true).WriteAsync(settled.ToJsonString(Options), cancellationToken);
    }

    /// <summary>Makes <paramref name="into"/> differ from <paramref name="before"/> where <paramref name="after"/> does.</summary>
    private static void Carry(JsonObject before, JsonObject after, JsonObject into)
    {
        foreach (var key in before.Concat(after).Select(p => p.Key).Distinct().Where(k => !JsonNode.DeepEquals(before[k], after[k])))
        {
            if (after[key] is JsonObject wanted && into[key] is JsonObject inside)
            {
                Carry(before[key] as JsonObject ?? [], wanted, inside);
            }
            else
            {
                _ = into.Remove(key);
                if (after[key] is { } value)
                {
                    into[key] = value.DeepClone();
                }
            }
        }
    }

    private static JsonObject Json(Settings settings) => JsonSerializer.SerializeToNode(settings, Options)!.AsObject();

    /// <summary>
    /// Waits until nobody else writes settings. The lock file stays: to delete it could pull it from under the next writer.
    /// </summary>
    private static async Task<FileStream> LockAsync(string dataFolder, CancellationToken cancellationToken)
    {
        var path = Path.Combine(dataFolder, ".settings.lock");
        for (var tries = 1; ; tries++)
        {
            try
            {
                return new FileStream(path, UserOnly.Options(FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
            }
            catch (IOException) when (tries < MostTries && File.Exists(path))
            {
                await Task.Delay(BetweenTries, TimeProvider.System, cancellationToken);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                throw new BenchException($"{FileOf(dataFolder)} cannot be written: {e.Message} Check the folder, then try again.");
            }
        }
    }

    private static string FileOf(string dataFolder) => Path.Combine(dataFolder, "settings.json");
}
