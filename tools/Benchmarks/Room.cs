namespace Benchmarks;

/// <summary>
/// A data folder with an invented lot and an instrument, gone afterwards. It lies where temporary files do, on whatever disk that is.
/// </summary>
internal sealed class Room : IDisposable
{
    public const string Lot = "2417";
    public const string Instrument = "bench";
    public const string Profile = "labelled-line";

    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-benchmark-").FullName;

    public string Data => Path.Combine(_folder, "data");

    /// <summary>A file on the same disk.</summary>
    public string Beside(string name) => Path.Combine(_folder, name);

    /// <param name="port">The instrument's port; null for no instrument.</param>
    public async Task FurnishAsync(string? port, CancellationToken cancellationToken)
    {
        await Served.DoAsync(Data, ["lot", "add", Lot, "--process", "c41", "--expires", "2099-12-31"], cancellationToken);
        await Served.DoAsync(
            Data,
            ["lot", "reference", Lot, .. Patches.SelectMany(p => new[] { "--value", $"{p.Key} {p.Value}" })],
            cancellationToken);
        if (port is not null)
        {
            await Served.DoAsync(
                Data, ["instrument", "add", Instrument, "--port", port, "--profile", Profile], cancellationToken);
        }
    }

    /// <summary>Densities of the lot's patches, red green blue; invented.</summary>
    public static IReadOnlyDictionary<string, string> Patches { get; } = new Dictionary<string, string>
    {
        ["dmin"] = "0.26 0.62 0.80",
        ["ld"] = "0.45 0.86 1.04",
        ["hd"] = "1.26 1.74 2.00",
        ["dmax"] = "2.12 2.58 2.92",
        ["yellow"] = "0.37 0.88 2.72",
    };

    /// <summary>The line that the instrument sends of a patch.</summary>
    public static string LineOf(string patch) =>
        Patches[patch].Split(' ') is [var red, var green, var blue]
            ? $"R {red} G {green} B {blue}\r\n"
            : throw new InvalidOperationException(patch);

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
