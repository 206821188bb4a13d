namespace Acquire.Tests.Commands;

public sealed class ProfileLearnCommandTests : IDisposable
{
    private const string Clear =
        "STATUS M\r\nNo. 012 R 0.26 G 0.62 B 0.80\r\nNo. 013 R 1.26 G 1.74 B 2.01\r\nNo. 014 R -0.01 G 0.02 B 0.03\r\n";
    private static readonly string[] Shown = ["--shown", "0.26 0.62 0.80", "--shown", "1.26 1.74 2.01", "--shown", "-0.01 0.02 0.03"];
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Learned_profile_is_written_and_proves_itself()
    {
        var output = PathOf("ours.json");

        var (code, _, error) = await LearnAsync(Clear, [.. Shown, "--out", output]);

        Assert.True(code == 0, error);
        var (tested, text, _) = await _program.RunAsync("profile", "test", output);
        Assert.Equal(0, tested);
        Assert.Contains("ours", text, StringComparison.Ordinal);
        Assert.Contains("No. 012 R 0.26 G 0.62 B 0.80", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Capture_with_times_is_read_as_the_bytes_that_came()
    {
        var timed = "# acquire capture 1\n# port: /dev/ttyUSB0\n"
            + string.Concat(Clear.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Select((line, i) =>
                $"2026-11-25T10:24:{i:00}.0000000+00:00\t{line[..4]}\n2026-11-25T10:24:{i:00}.1000000+00:00\t{line[4..]}\\x0D\\x0A\n"))
            + "2026-11-25T10:25:00.0000000+00:00\t\\end\n";
        var (code, _, error) = await LearnAsync(timed, [.. Shown, "--out", PathOf("timed.json")]);
        Assert.True(code == 0, error);
    }

    [Theory]
    [InlineData("0.26 0.62 0.80", "1.26 1.74 2.10", "R G B", "2.10")]
    [InlineData("0.26 0.62", "1.26 1.74", "R G B", "expected 3")]
    [InlineData("0.26 0.62 0.80", "1.26 1.74 2.01", "R R B", "no order of channels")]
    [InlineData("0.26 0.62 0.80", "1.26 1.74 2.01", "R G B", "3 readings, and 2 were shown")]
    public async Task Capture_that_is_not_clear_writes_nothing_and_says_why(string first, string second, string channels, string reason)
    {
        var output = PathOf("ours.json");
        await File.WriteAllTextAsync(output, "older", TestContext.Current.CancellationToken);

        var (code, _, error) =
            await LearnAsync(Clear, ["--shown", first, "--shown", second, "--channels", channels, "--force", "--out", output]);

        Assert.Equal(2, code);
        Assert.Contains(reason, error, StringComparison.Ordinal);
        Assert.Equal("older", await File.ReadAllTextAsync(output, TestContext.Current.CancellationToken));
        Assert.Equal(2, Directory.GetFiles(_program.Folder).Length);
    }

    [Fact]
    public async Task Visual_channel_is_named_by_channels()
    {
        var output = PathOf("four.json");

        var (code, _, error) = await LearnAsync(
            "0.58 0.26 0.62 0.80\r\n1.61 1.26 1.74 2.01\r\n",
            ["--shown", "0.58 0.26 0.62 0.80", "--shown", "1.61 1.26 1.74 2.01", "--channels", "V R G B", "--out", output]);

        Assert.True(code == 0, error);
        Assert.Contains(
            "{visual} {red} {green} {blue}",
            await File.ReadAllTextAsync(output, TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Capture_that_is_missing_is_named()
    {
        var (code, _, error) =
            await _program.RunAsync(["profile", "learn", "--capture", PathOf("none.txt"), .. Shown, "--out", PathOf("x.json")]);

        Assert.Equal(2, code);
        Assert.Contains("none.txt", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Capture_with_times_gives_the_line_settings_and_the_pause()
    {
        var timed = "# acquire capture 1\n# port: /dev/ttyUSB0\n# settings: 1200 7E1\n"
            + "2026-11-25T10:24:00.0000000+00:00\t0.26 0.62\n2026-11-25T10:24:00.0100000+00:00\t "
                + "0.80\n2026-11-25T10:24:09.0000000+00:00\t1.26 1.74 2.01\n";

        var (code, _, error) =
            await LearnAsync(timed, ["--shown", "0.26 0.62 0.80", "--shown", "1.26 1.74 2.01", "--out", PathOf("ours.json")]);

        Assert.True(code == 0, error);
        var json = await File.ReadAllTextAsync(PathOf("ours.json"), TestContext.Current.CancellationToken);
        Assert.Contains("\"link\": { \"baud\": 1200, \"dataBits\": 7, \"parity\": \"even\" }", json, StringComparison.Ordinal);
        Assert.Contains("\"lineEnd\": \"none\", \"idleGapMs\": ", json, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "'--port' or '--capture' is required")]
    [InlineData("--capture x.txt --port COM3 --shown 1", "exclude each other")]
    [InlineData("--capture x.txt", "'--shown' is required")]
    [InlineData("--port COM3 --shown 1", "--shown goes with --capture only")]
    [InlineData("--capture x.txt --shown 1 --baud 1200", "go with --port only")]
    [InlineData("--capture x.txt --shown 1 --keep y.txt", "go with --port only")]
    [InlineData("--port COM3 --patience 0", "1 to 3600")]
    [InlineData("--port tcp:localhost:4001 --baud 1200", "rate is set at the server")]
    [InlineData("--port tcp:localhost", "HOST:PORT")]
    [InlineData("--port COM3 --channels XY", "XY")]
    [InlineData("--port COM3 --baud 7", "7 baud")]
    public async Task Usage_that_makes_no_sense_is_refused(string arguments, string reason)
    {
        var (code, _, error) = await _program.RunAsync(
            ["profile", "learn", "--out", PathOf("ours.json"), .. arguments.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);

        Assert.Equal(2, code);
        Assert.Contains(reason, error, StringComparison.Ordinal);
        Assert.False(File.Exists(PathOf("ours.json")));
    }

    [Fact]
    public async Task Place_that_cannot_be_written_is_told_before_the_port_is_opened()
    {
        var (code, _, error) = await _program.RunAsync("profile", "learn", "--port", PathOf("no-port"), "--out", PathOf("none/ours.json"));

        Assert.Equal(2, code);
        Assert.Contains("There is no folder", error, StringComparison.Ordinal);
        var (second, _, other) = await _program.RunAsync("profile", "learn", "--port", PathOf("no-port"), "--out", _program.Folder);
        Assert.Equal(2, second);
        Assert.Contains("is a folder", other, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Port_that_is_not_there_is_a_fault_of_the_port()
    {
        var (code, _, error) = await _program.RunAsync("profile", "learn", "--port", PathOf("no-port"), "--out", PathOf("ours.json"));

        Assert.Equal(3, code);
        Assert.Contains("no-port", error, StringComparison.Ordinal);
    }

    private async Task<(int Code, string Out, string Error)> LearnAsync(string capture, string[] arguments)
    {
        var file = PathOf("capture.txt");
        await File.WriteAllTextAsync(file, capture, TestContext.Current.CancellationToken);
        return await _program.RunAsync(["profile", "learn", "--capture", file, .. arguments]);
    }

    private string PathOf(string name) => Path.Combine(_program.Folder, name);
}
