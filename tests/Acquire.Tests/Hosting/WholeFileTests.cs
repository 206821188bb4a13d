using System.Text;
using Acquire.Bench.Files;
using Acquire.Hosting;
using Microsoft.Extensions.Logging;

namespace Acquire.Tests.Hosting;

/// <summary>What a command writes is there whole or not at all, replaces nothing unasked, and never a store.</summary>
public sealed class WholeFileTests : IDisposable
{
    private readonly InMemory _program = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task File_that_is_there_is_replaced_only_when_asked()
    {
        var file = In("strips.csv");
        await File.WriteAllTextAsync(file, "mine", Token);

        var error = Assert.Throws<BenchException>(() => WholeFile.At(file, replace: false));
        Assert.Contains("--force", error.Message, StringComparison.Ordinal);
        Assert.Equal("mine", await File.ReadAllTextAsync(file, Token));
        await WholeFile.At(file, replace: true).WriteAsync("new", Token);
        Assert.Equal("new", await File.ReadAllTextAsync(file, Token));
    }

    /// <summary>As a disk that is full, or a command that is stopped, half-way.</summary>
    [Fact]
    public async Task Writing_that_fails_half_way_leaves_what_was_there_and_nothing_beside_it()
    {
        var file = In("strips.csv");
        await File.WriteAllTextAsync(file, "mine", Token);

        var error = await Assert.ThrowsAsync<BenchException>(() => WholeFile.At(file, replace: true).WriteAsync(
            async (stream, token) =>
            {
                await stream.WriteAsync(new byte[100_000], token);
                throw new IOException("No space left on device.");
            },
            Token));

        Assert.Contains("No space left", error.Message, StringComparison.Ordinal);
        Assert.Equal("mine", await File.ReadAllTextAsync(file, Token));
        Assert.Equal(["strips.csv"], Directory.EnumerateFileSystemEntries(_program.Folder).Select(Path.GetFileName));
    }

    [Fact]
    public async Task Writing_that_is_cancelled_leaves_no_file()
    {
        using var cancel = CancellationTokenSource.CreateLinkedTokenSource(Token);

        _ = await Assert.ThrowsAnyAsync<OperationCanceledException>(() => WholeFile.At(In("strips.csv"), replace: false).WriteAsync(
            async (stream, token) =>
            {
                await stream.WriteAsync(new byte[100_000], token);
                await cancel.CancelAsync();
                token.ThrowIfCancellationRequested();
            },
            cancel.Token));

        Assert.Empty(Directory.EnumerateFileSystemEntries(_program.Folder));
    }

    [Theory]
    [InlineData("acquire.db")]
    [InlineData("acquire.db-wal")]
    [InlineData("acquire.db-shm")]
    [InlineData("acquire.db-journal")]
    [InlineData("acquire.lock")]
    [InlineData("backups/acquire-20990101-000000.db")]
    [InlineData("link.csv")]
    [InlineData("link-to-lock.csv")]
    [InlineData("folder/acquire.db")]
    [InlineData("hard.csv")]
    public async Task Store_is_never_the_target(string name)
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Links need rights there.");
        Assert.Equal(0, (await _program.RunAsync("lot", "add", "2417", "--process", "c41")).Code);
        Assert.Equal(0, (await _program.RunAsync("backup")).Code);
        _ = File.CreateSymbolicLink(In("link.csv"), In("acquire.db"));
        _ = File.CreateSymbolicLink(In("link-to-lock.csv"), "acquire.lock");
        _ = Directory.CreateSymbolicLink(In("folder"), _program.Folder);
        using (var ln = System.Diagnostics.Process.Start("ln", [In("acquire.db"), In("hard.csv")]))
        {
            await ln.WaitForExitAsync(Token);
        }

        var before = await File.ReadAllBytesAsync(In("acquire.db"), Token);
        string[] commands = ["export", "export strips", "import map new --from x.csv", "demo --headless"];
        foreach (var words in commands.Select(c => c + " --force --out"))
        {
            var (code, _, error) = await _program.RunAsync([.. words.Split(' '), In(name)]);
            Assert.True(code == 2, $"{words}: {code} {error}");
            Assert.Matches("belongs to a store|is a database", error);
        }

        Assert.Equal(before, await File.ReadAllBytesAsync(In("acquire.db"), Token));
        Assert.Equal(0, (await _program.RunAsync("verify")).Code);
    }

    [Fact]
    public async Task Device_is_written_to_and_not_replaced()
    {
        Assert.SkipUnless(File.Exists("/dev/null"), "There is no such device here.");
        await WholeFile.At("/dev/null", replace: false).WriteAsync("gone", Token);

        Assert.Equal(0, new FileInfo("/dev/null").Length);
        Assert.True(File.Exists("/dev/null"));
    }

    [Fact]
    public async Task Link_leads_to_the_file_that_is_written_and_stays()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Links need rights there.");
        await File.WriteAllTextAsync(In("real.csv"), "mine", Token);
        _ = File.CreateSymbolicLink(In("link.csv"), "real.csv");
        _ = File.CreateSymbolicLink(In("circle.csv"), "circle.csv");

        await WholeFile.At(In("link.csv"), replace: true).WriteAsync("new", Token);

        Assert.Equal("new", await File.ReadAllTextAsync(In("real.csv"), Token));
        Assert.NotNull(new FileInfo(In("link.csv")).LinkTarget);
        var error = Assert.Throws<BenchException>(() => WholeFile.At(In("circle.csv"), replace: true));
        Assert.Contains("circle", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Log_is_the_users_own()
    {
        if (OperatingSystem.IsWindows())
        {
            Assert.Skip("Windows has no such modes.");
            return;
        }

        using (var logs = Logs.Open(_program.Folder, verbose: false))
        {
            logs.CreateLogger("test").Log(LogLevel.Warning, default, "a line", null, (line, _) => line);
        }

        var file = Assert.Single(Directory.EnumerateFiles(In("logs")));
        Assert.Contains("a line", Encoding.UTF8.GetString(File.ReadAllBytes(file)), StringComparison.Ordinal);
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(In("logs")));
    }

    private string In(string name) => Path.Combine(_program.Folder, name);
}
