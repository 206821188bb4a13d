namespace Acquire.Tests.Commands;

/// <summary>Backup, verify and restore as commands, on a real store with a strip read from a real socket.</summary>
[Trait("speed", "slow")]
public sealed class StoreSafetyTests : IAsyncDisposable
{
    private readonly InMemory _program = new();
    private readonly TcpInstrument _instrument = new();

    private string Database => Path.Combine(_program.Folder, "acquire.db");

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await _instrument.DisposeAsync();
        _program.Dispose();
    }

    [Fact]
    public async Task Backup_without_a_name_is_listed_verified_and_restored()
    {
        await ReadStripAsync();
        var (code, output, error) = await _program.RunAsync("backup");
        Assert.True(code == 0, error);
        Assert.Contains("the copy is verified", output, StringComparison.Ordinal);
        var backup = Assert.Single((await _program.JsonAsync("backup", "list")).GetProperty("backups").EnumerateArray()).GetProperty("path")
            .GetString()!;
        Assert.Contains(backup, (await _program.RunAsync("backup", "list")).Out, StringComparison.Ordinal);
        Assert.Contains("SOUND", (await _program.RunAsync("verify", "--file", backup)).Out, StringComparison.Ordinal);

        await _program.RunAsync("lot", "add", "later", "--process", "c41");
        var (restored, said, why) = await _program.RunAsync("restore", backup);
        Assert.True(restored == 0, why);
        Assert.Contains("acquire-set-aside-", said, StringComparison.Ordinal);
        Assert.Equal("2417", Assert.Single((await _program.JsonAsync("lot", "list")).EnumerateArray()).GetProperty("code").GetString());
        Assert.Single((await _program.JsonAsync("strip", "list")).EnumerateArray());
        Assert.Equal(0, (await _program.RunAsync("verify")).Code);
    }

    [Fact]
    public async Task Verify_of_a_sound_store_counts_what_it_holds()
    {
        await ReadStripAsync();
        var (code, output, error) = await _program.RunAsync("verify");

        Assert.True(code == 0, error);
        Assert.Contains("1 strip in 1 revision, 1 lot, 1 session with 5 lines", output, StringComparison.Ordinal);
        Assert.True((await _program.JsonAsync("verify")).GetProperty("sound").GetBoolean());
    }

    /// <summary>The raw line is changed, byte by byte in the file, to another of the same length.</summary>
    [Fact]
    public async Task Verify_tells_a_raw_line_that_was_changed_and_names_the_newest_sound_backup()
    {
        await ReadStripAsync();
        Assert.Equal(0, (await _program.RunAsync("backup")).Code);
        var bytes = await File.ReadAllBytesAsync(Database, Token);
        var at = bytes.AsSpan().IndexOf("R 0.45 G 0.86"u8);
        Assert.True(at > 0);
        bytes[at + 5] = (byte)'4';
        await File.WriteAllBytesAsync(Database, bytes, Token);

        var (code, output, _) = await _program.RunAsync("verify");

        Assert.Equal(4, code);
        Assert.Contains("is not as it was written", output, StringComparison.Ordinal);
        Assert.Contains("acquire restore ", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Damaged_store_is_explained_with_the_newest_sound_backup_by_any_command()
    {
        await ReadStripAsync();
        Assert.Equal(0, (await _program.RunAsync("backup")).Code);
        var sound = (await _program.JsonAsync("backup", "list")).GetProperty("backups")[0].GetProperty("path").GetString()!;
        await File.WriteAllTextAsync(Path.Combine(_program.Folder, "backups", "acquire-20990101-000000.db"), "no backup", Token);
        await File.WriteAllTextAsync(Database, new string('x', 9000), Token);

        var (code, _, error) = await _program.RunAsync("strip", "list");

        Assert.Equal(4, code);
        Assert.Contains($"acquire restore {sound}", error, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.RunAsync("restore", sound)).Code);
        Assert.Single((await _program.JsonAsync("strip", "list")).EnumerateArray());
    }

    [Fact]
    public async Task Store_that_was_moved_away_is_not_begun_anew_beside_its_backups()
    {
        await ReadStripAsync();
        Assert.Equal(0, (await _program.RunAsync("backup")).Code);
        File.Move(Database, Path.Combine(_program.Folder, "elsewhere.db"));

        var (code, _, error) = await _program.RunAsync("strip", "list");

        Assert.Equal(4, code);
        Assert.Contains("moved or deleted", error, StringComparison.Ordinal);
        Assert.Contains("newest sound backup is", error, StringComparison.Ordinal);
        Assert.False(File.Exists(Database));
    }

    [Theory]
    [InlineData("restore none.db", "no such file")]
    [InlineData("restore damaged.db", "not a database")]
    [InlineData("verify --file none.db", "no such file")]
    public async Task File_that_is_no_backup_is_refused_and_the_store_stays(string command, string said)
    {
        await ReadStripAsync();
        await File.WriteAllTextAsync(Path.Combine(_program.Folder, "damaged.db"), new string('x', 9000), Token);
        string[] words = command.Split(' ');
        var (code, _, error) = await _program.RunAsync([.. words[..^1], Path.Combine(_program.Folder, words[^1])]);

        Assert.Equal(4, code);
        Assert.True(error.Contains(said, StringComparison.Ordinal) || error.Contains("no database", StringComparison.Ordinal), error);
        Assert.Single((await _program.JsonAsync("strip", "list")).EnumerateArray());
    }

    [Fact]
    public async Task Verify_without_a_store_says_so_and_makes_none()
    {
        using var program = new InMemory { BeginsWithStore = false };

        Assert.Equal(4, (await program.RunAsync("verify")).Code);
        Assert.False(File.Exists(Path.Combine(program.Folder, "acquire.db")));
    }

    private async Task ReadStripAsync()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        Assert.Equal(0, (await _program.RunAsync(["lot", "reference", "2417", .. TcpInstrument.ReferenceValues])).Code);
        _instrument.Lay();
        var (code, _, error) = await _program.RunAsync(["read", .. _instrument.Options, "--lot", "2417"]);
        Assert.True(code == 0, error);
    }
}
