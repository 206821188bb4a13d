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
}
