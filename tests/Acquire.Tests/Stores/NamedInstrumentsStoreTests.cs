using System.IO.Compression;
using System.Text;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Stores;

/// <summary>
/// A store that the program of schema version 20 wrote, before instruments had names: strips, readings at the instrument, a check, a test
/// and an entered reference, with four profiles. It is brought to this version, loses nothing, and says the same.
/// </summary>
[Trait("speed", "slow")]
public sealed class NamedInstrumentsStoreTests : IDisposable
{
    private readonly InMemory _program = new() { Time = new FakeTimeProvider(new DateTimeOffset(2026, 11, 28, 12, 0, 0, TimeSpan.Zero)) };

    public NamedInstrumentsStoreTests() => File.WriteAllBytes(Path.Combine(_program.Folder, "acquire.db"), Fixture("store.gz"));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task One_instrument_is_made_of_each_profile_with_the_port_of_its_last_session()
    {
        var listed = (await _program.JsonAsync("instrument", "list")).EnumerateArray()
            .Select(i => $"{i.GetProperty("name").GetString()} {i.GetProperty("port").GetString()}").Order(StringComparer.Ordinal);

        Assert.Equal(["labelled-line tcp:127.0.0.1:7423", "rgb-columns ", "vrgb-columns "], listed);
    }

    [Fact]
    public async Task Store_is_sound_and_all_that_it_had_is_there()
    {
        // Looking through a file changes nothing in it; the first command that opens the store brings it to this version.
        _ = await _program.JsonAsync("instrument", "list");
        var (code, said, error) = await _program.RunAsync("verify");

        Assert.True(code == 0, said + error);
        Assert.Contains("47 strips in 48 revisions, 3 lots, 3 sessions with 15 lines", said, StringComparison.Ordinal);
        // Three instruments more than the 3548 rows that it had.
        Assert.Contains("All 3551 rows are as they were written", said, StringComparison.Ordinal);
        var shown = await _program.JsonAsync("instrument", "show", "labelled-line");
        Assert.Equal(47, shown.GetProperty("strips").GetInt32());
        Assert.Equal((1, 1), (shown.GetProperty("rechecks").GetInt32(), shown.GetProperty("tests").GetInt32()));
        Assert.Equal(1, (await _program.JsonAsync("instrument", "show", "rgb-columns")).GetProperty("checks").GetInt32());
    }

    [Fact]
    public async Task Whole_records_are_those_that_program_exported()
    {
        var file = Path.Combine(_program.Folder, "strips.jsonl");
        await File.WriteAllBytesAsync(file, Fixture("strips.jsonl.gz"), Token);

        var report = await _program.JsonAsync("import", "strips", file);

        Assert.Equal((0, 48), (report.GetProperty("added").GetInt32(), report.GetProperty("alreadyThere").GetInt32()));
    }

    /// <summary>Beside the columns of before stand the four of the instrument, and nothing else has changed.</summary>
    [Fact]
    public async Task Reads_are_those_that_program_exported_with_the_instrument_beside_them()
    {
        var file = Path.Combine(_program.Folder, "exported.csv");
        Assert.Equal(0, (await _program.RunAsync("export", "strips", "--format", "csv", "--out", file)).Code);

        var rows = (await File.ReadAllTextAsync(file, Token)).Split("\r\n");
        var before = Encoding.UTF8.GetString(Fixture("strips.csv.gz")).Split("\r\n");

        Assert.Equal(before.Length, rows.Length);
        Assert.EndsWith(",instrument,profile,profile_hash,port", rows[0], StringComparison.Ordinal);
        Assert.All(before.Zip(rows), p => Assert.StartsWith(p.First, p.Second, StringComparison.Ordinal));
        Assert.Contains(",labelled-line,labelled-line,", rows[1], StringComparison.Ordinal);
    }

    /// <summary>What that program listed: zones, verdicts, what is past a limit.</summary>
    [Fact]
    public async Task Every_strip_is_judged_as_it_was()
    {
        using var before = System.Text.Json.JsonDocument.Parse(Fixture("list.json.gz"));

        Assert.Equal(
            before.RootElement.EnumerateArray().Select(s => s.ToString()),
            (await _program.JsonAsync("strip", "list")).EnumerateArray().Select(s => s.ToString()));
    }

    private static byte[] Fixture(string name)
    {
        using var packed =
            new GZipStream(File.OpenRead(Path.Combine(AppContext.BaseDirectory, "Stores", "Schema20", name)), CompressionMode.Decompress);
        using var whole = new MemoryStream();
        packed.CopyTo(whole);
        return whole.ToArray();
    }
}
