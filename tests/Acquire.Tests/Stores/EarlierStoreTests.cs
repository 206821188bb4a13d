using System.IO.Compression;
using System.Text;
using Dapper;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Stores;

/// <summary>
/// A store that the program of schema version 14 wrote, the demo's term with a reading that was broken off, and what that program exported
/// of it. Programs to come must open it and say the same.
/// </summary>
[Trait("speed", "slow")]
public sealed class EarlierStoreTests : IDisposable
{
    private const string BrokenOff = "01a21c5d-4242-7169-866e-69708636523e";

    private readonly InMemory _program = new() { Time = new FakeTimeProvider(new DateTimeOffset(2026, 11, 27, 12, 0, 0, TimeSpan.Zero)) };

    public EarlierStoreTests() => File.WriteAllBytes(Path.Combine(_program.Folder, "acquire.db"), Fixture("store.gz"));

    /// <summary>The whole records that program exported.</summary>
    internal static string Lines => Encoding.UTF8.GetString(Fixture("strips.jsonl.gz"));

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Opens_is_sound_and_exports_the_reads_as_that_program_did()
    {
        var exported = await ExportAsync("csv");

        // Since then four columns of the instrument stand behind those of that program.
        var before = Encoding.UTF8.GetString(Fixture("strips.csv.gz"));
        var rows = Encoding.UTF8.GetString(exported).Split("\r\n");
        Assert.Equal(before, string.Join("\r\n", rows.Select(r => string.Join(',', r.Split(',').SkipLast(4)))));
        var (code, said, error) = await _program.RunAsync("verify");
        Assert.True(code == 0, said + error);
        Assert.Contains("46 strips in 47 revisions, 2 lots, 1 session with 3 lines", said, StringComparison.Ordinal);
    }

    /// <summary>
    /// Read back in, every record that was exported whole is there already and the same, aims, means, sheets and raw lines included.
    /// </summary>
    [Fact]
    public async Task Whole_records_are_those_that_program_exported()
    {
        var file = Path.Combine(_program.Folder, "strips.jsonl");
        await File.WriteAllBytesAsync(file, Fixture("strips.jsonl.gz"), Token);

        var report = await _program.JsonAsync("import", "strips", file);

        Assert.Equal((0, 47), (report.GetProperty("added").GetInt32(), report.GetProperty("alreadyThere").GetInt32()));
    }

    /// <summary>Into a store of today and out again the lines have the names of today, and from there on they stay as they are.</summary>
    [Fact]
    public async Task Whole_records_go_into_another_store_and_come_out_under_the_names_of_today()
    {
        using var second = new InMemory { Time = _program.Time };
        using var third = new InMemory { Time = _program.Time };
        await File.WriteAllTextAsync(Path.Combine(second.Folder, "strips.jsonl"), Lines, Token);

        var first = await PassedThroughAsync(second);
        await File.WriteAllTextAsync(Path.Combine(third.Folder, "strips.jsonl"), first, Token);

        Assert.Equal(47, first.Split('\n').Count(l => l.Contains("\"judgedBy\":", StringComparison.Ordinal)));
        Assert.DoesNotContain("\"judged_by\"", first, StringComparison.Ordinal);
        Assert.Equal(first, await PassedThroughAsync(third));
    }

    /// <summary>A sheet that is there as earlier versions wrote it is stored once more as today, and the old row stays as it is.</summary>
    [Fact]
    public async Task Strip_that_is_amended_adds_a_snapshot_of_today_and_rewrites_none()
    {
        _ = await _program.JsonAsync("strip", "list");
        var before = Snapshots();
        var strip = (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;

        Assert.Equal(0, (await _program.RunAsync("strip", "amend", strip, "--reason", "forgotten", "--note", "after lunch")).Code);

        var after = Snapshots();
        Assert.All(before, row => Assert.Contains("\"stands_for\":", row, StringComparison.Ordinal));
        Assert.Contains("\"standsFor\":", Assert.Single(after.Except(before)), StringComparison.Ordinal);
        Assert.Equal(before, after.Intersect(before));
        var (code, said, error) = await _program.RunAsync("verify");
        Assert.True(code == 0, said + error);
    }

    [Fact]
    public async Task Lists_what_it_holds()
    {
        Assert.Equal(46, (await _program.JsonAsync("strip", "list")).GetArrayLength());
        Assert.Equal(2, (await _program.JsonAsync("lot", "list")).GetArrayLength());
        Assert.Equal(12, (await _program.JsonAsync("check", "list")).GetArrayLength());
        Assert.Equal(
            BrokenOff, Assert.Single((await _program.JsonAsync("session", "list")).EnumerateArray()).GetProperty("id").GetString());
        Assert.Contains("next: LD, read 2 of 2", (await _program.RunAsync("session", "show", BrokenOff)).Out, StringComparison.Ordinal);
    }

    private static byte[] Fixture(string name)
    {
        using var packed =
            new GZipStream(File.OpenRead(Path.Combine(AppContext.BaseDirectory, "Stores", "Schema14", name)), CompressionMode.Decompress);
        using var whole = new MemoryStream();
        packed.CopyTo(whole);
        return whole.ToArray();
    }

    private static async Task<string> PassedThroughAsync(InMemory program)
    {
        var (file, copy) = (Path.Combine(program.Folder, "strips.jsonl"), Path.Combine(program.Folder, "copy.jsonl"));
        var (code, _, error) = await program.RunAsync("import", "strips", file);
        Assert.True(code == 0, error);
        (code, _, error) = await program.RunAsync("export", "strips", "--format", "jsonl", "--revisions", "--out", copy);
        Assert.True(code == 0, error);
        return await File.ReadAllTextAsync(copy, Token);
    }

    private List<string> Snapshots()
    {
        using var connection = new SqliteConnection(
            $"Data Source={Path.Combine(_program.Folder, "acquire.db")};Mode=ReadOnly;Pooling=False");
        connection.Open();
        return connection.Query<string>("SELECT sheet FROM process_snapshot ORDER BY hash").AsList();
    }

    private async Task<byte[]> ExportAsync(string format)
    {
        var file = Path.Combine(_program.Folder, "exported." + format);
        var (code, _, error) = await _program.RunAsync("export", "strips", "--format", format, "--out", file);
        Assert.True(code == 0, error);
        return await File.ReadAllBytesAsync(file, Token);
    }
}
