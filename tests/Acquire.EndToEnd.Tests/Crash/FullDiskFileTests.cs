using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Crash;

/// <summary>A disk that is full when a file is written anew: the file that was there stays whole, and nothing is left beside it.</summary>
[Trait("speed", "slow")]
public sealed class FullDiskFileTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task File_that_cannot_be_written_anew_on_a_full_disk_stays_as_it_was()
    {
        _ = await _darkroom.DoAsync("demo", "--into", _darkroom.Data);
        await using var disk = await SmallDisk.InMemoryAsync(Path.Combine(_darkroom.Folder, "disk"), megabytes: 16);
        (string Name, string[] Command)[] files =
        [
            ("strips.csv", ["export", "strips", "--format", "csv"]),
            ("strips.jsonl", ["export", "strips", "--format", "jsonl"]),
            ("chart.svg", ["chart"]),
            ("chart.png", ["chart"]),
            ("report.html", ["report"]),
        ];
        foreach (var (name, _) in files)
        {
            await File.WriteAllTextAsync(Path.Combine(disk.Folder, name), $"what was there before, {name}", Token);
        }

        disk.Fill();
        foreach (var (name, command) in files)
        {
            var file = Path.Combine(disk.Folder, name);
            var before = await File.ReadAllBytesAsync(file, Token);

            var (code, _, error) = await _darkroom.WithinAsync([.. command, "--out", file, "--force"]);

            Assert.True(code == 2, $"{name}: {code}, {error}");
            Assert.Contains($"{file} cannot be written", error, StringComparison.Ordinal);
            Assert.Contains("What was there before is unharmed", error, StringComparison.Ordinal);
            Assert.Equal(before, await File.ReadAllBytesAsync(file, Token));
        }

        Assert.Equal(
            files.Select(f => f.Name).Append("filler").Order(StringComparer.Ordinal),
            Directory.GetFiles(disk.Folder).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal));
    }
}
