namespace Acquire.Tests.Demo;

/// <summary>What <c>acquire demo --into</c> touches and what it leaves alone.</summary>
[Trait("speed", "slow")]
public sealed class DemoIntoTests
{
    [Fact]
    public async Task Same_clock_gives_the_same_exports_and_another_seed_is_refused()
    {
        Assert.Equal(await ExportsAsync(FilledTerm.Now), await ExportsAsync(FilledTerm.Now));
        using var program = FilledTerm.Program(FilledTerm.Now);
        var (code, _, error) = await program.RunAsync("demo", "--into", Path.Combine(program.Folder, "term"), "--seed", "7");
        Assert.Equal((2, true), (code, error.Contains("tools/DemoTerm", StringComparison.Ordinal)));
    }

    /// <summary>In the evening, at noon, and before anybody came in.</summary>
    [Theory]
    [InlineData("2026-11-24T19:00:00Z")]
    [InlineData("2027-02-28T12:00:00Z")]
    [InlineData("2028-02-29T06:00:00Z")]
    public async Task Term_ends_before_now_without_a_warning(string now)
    {
        var at = DateTimeOffset.Parse(now, System.Globalization.CultureInfo.InvariantCulture);
        using var program = FilledTerm.Program(at);
        var folder = Path.Combine(program.Folder, "term");
        var (code, _, error) = await program.RunAsync("demo", "--into", folder);
        Assert.True(code == 0 && error.Length == 0, error);
        using var reader = new InFolder(program.Time, folder);
        var last = (await reader.JsonAsync("strip", "list")).EnumerateArray().Last().GetProperty("readAt").GetDateTimeOffset();
        Assert.InRange((at - last).TotalDays, 0, 2);
        Assert.Equal(0, (await reader.RunAsync("verify")).Code);
    }

    [Fact]
    public async Task Folder_with_something_in_it_is_refused_and_left_alone()
    {
        using var program = FilledTerm.Program(FilledTerm.Now);
        var file = Path.Combine(program.Folder, "acquire.db");
        await File.WriteAllTextAsync(file, "mine", TestContext.Current.CancellationToken);
        var (code, _, error) = await program.RunAsync("demo", "--into", program.Folder);
        Assert.Equal(2, code);
        Assert.Contains("nothing there is touched", error, StringComparison.Ordinal);
        Assert.Equal([file], Directory.EnumerateFileSystemEntries(program.Folder));
        Assert.Equal("mine", await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task File_and_contradicting_options_are_refused()
    {
        using var program = FilledTerm.Program(FilledTerm.Now);
        var file = Path.Combine(program.Folder, "note.txt");
        await File.WriteAllTextAsync(file, "mine", TestContext.Current.CancellationToken);
        Assert.Equal(2, (await program.RunAsync("demo", "--into", file)).Code);
        var (code, _, error) = await program.RunAsync("demo", "--headless", "--into", Path.Combine(program.Folder, "new"));
        Assert.Equal(2, code);
        Assert.Contains("leave --headless and --out out", error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(Path.Combine(program.Folder, "new")));
    }

    [Fact]
    public async Task Empty_folder_is_filled()
    {
        using var program = FilledTerm.Program(FilledTerm.Now);
        var (code, output, error) = await program.RunAsync("demo", "--into", program.Folder);
        Assert.True(code == 0, error);
        Assert.Contains(program.Folder, output, StringComparison.Ordinal);
        Assert.Contains("mark:", (await program.RunAsync("check", "require")).Out, StringComparison.Ordinal);
    }

    private static async Task<string[]> ExportsAsync(DateTimeOffset now)
    {
        using var program = FilledTerm.Program(now);
        var folder = Path.Combine(program.Folder, "term");
        Assert.Equal(0, (await program.RunAsync("demo", "--into", folder)).Code);
        using var reader = new InFolder(program.Time, folder);
        var exports = new List<string>();
        foreach (var name in new[] { "strips.csv", "strips.jsonl" })
        {
            var file = Path.Combine(program.Folder, name);
            var (code, _, error) = await reader.RunAsync("export", "--out", file);
            Assert.True(code == 0, error);
            exports.Add(await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken));
        }

        return [.. exports, (await reader.RunAsync("event", "list", "--all", "--json")).Out];
    }
}
