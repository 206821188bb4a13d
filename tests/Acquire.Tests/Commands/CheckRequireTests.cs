namespace Acquire.Tests.Commands;

public sealed class CheckRequireTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Require_is_kept_for_the_data_folder_and_blocks_a_reading_before_the_port_is_opened()
    {
        Assert.Contains("Nothing settled", (await _program.RunAsync("check", "require")).Out, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.RunAsync("check", "require", "block")).Code);
        Assert.StartsWith("block", (await _program.RunAsync("check", "require")).Out, StringComparison.Ordinal);

        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        var (code, _, error) = await _program.RunAsync("read", "--lot", "2417", "--port", "/dev/none", "--profile", "labelled-line");
        Assert.Equal(2, code);
        Assert.Contains("The strip is not read: no calibration check", error, StringComparison.Ordinal);

        (code, _, error) = await _program.RunAsync(
            "read", "--lot", "2417", "--port", "/dev/none", "--profile", "labelled-line", "--require-check", "warn");
        Assert.Equal(2, code);
        Assert.Contains("Take care", error, StringComparison.Ordinal);
        Assert.Contains("no reference yet", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Settings_that_are_wrong_are_refused_with_file_and_line()
    {
        await File.WriteAllTextAsync(
            Path.Combine(_program.Folder, "settings.json"), "{\n  \"requireCheck\": \"maybe\"\n}", TestContext.Current.CancellationToken);
        var (code, _, error) = await _program.RunAsync("check", "require");

        Assert.Equal(2, code);
        Assert.Contains("settings.json, line 2", error, StringComparison.Ordinal);
    }

    /// <summary>Settings are one file written whole: neither what the user keeps beside it nor a link to it is in the way.</summary>
    [Fact]
    public async Task Settings_are_written_behind_a_link_and_leave_what_is_beside_them()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Links need rights there.");
        var token = TestContext.Current.CancellationToken;
        await File.WriteAllTextAsync(In("kept-elsewhere.json"), "{}", token);
        await File.WriteAllTextAsync(In("settings.json.new"), "mine", token);
        _ = File.CreateSymbolicLink(In("settings.json"), "kept-elsewhere.json");

        Assert.Equal(0, (await _program.RunAsync("check", "require", "mark")).Code);

        Assert.Contains("mark", await File.ReadAllTextAsync(In("kept-elsewhere.json"), token), StringComparison.Ordinal);
        Assert.Equal("kept-elsewhere.json", new FileInfo(In("settings.json")).LinkTarget);
        Assert.Equal("mine", await File.ReadAllTextAsync(In("settings.json.new"), token));
    }

    [Fact]
    public async Task Settings_that_many_write_at_once_are_those_of_one_of_them()
    {
        var codes = await Task.WhenAll(Enumerable.Range(0, 40).Select(i => Task.Run(
            async () => (await _program.RunAsync("check", "require", i % 2 == 0 ? "mark" : "block")).Code)));

        Assert.All(codes, code => Assert.Equal(0, code));
        Assert.Matches("^(mark|block): ", (await _program.RunAsync("check", "require")).Out);
        Assert.Equal(["settings.json"], Directory.GetFiles(_program.Folder, "settings*").Select(Path.GetFileName));
    }

    private string In(string name) => Path.Combine(_program.Folder, name);
}
