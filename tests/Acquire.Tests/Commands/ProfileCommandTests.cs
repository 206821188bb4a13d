namespace Acquire.Tests.Commands;

public sealed class ProfileCommandTests : IDisposable
{
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task List_shows_the_shipped_families()
    {
        var names = (await _program.JsonAsync("profile", "list")).EnumerateArray().Select(p => p.GetProperty("name").GetString()).ToList();
        string[] families =
        [
            "labelled-line", "rgb-columns", "vrgb-columns", "fixed-width", "channel-lines-labelled", "channel-lines-plain", "decimal-comma",
        ];
        Assert.Empty(families.Except(names));
    }

    [Fact]
    public async Task List_shows_a_users_own_profile_and_what_is_wrong_with_a_broken_one()
    {
        var folder = Directory.CreateDirectory(Path.Combine(_program.Folder, "profiles")).FullName;
        var shipped = await File.ReadAllTextAsync(
            Path.Combine(House.Repository.Root, "device-profiles", "rgb-columns.json"), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(
            Path.Combine(folder, "ours.json"),
            shipped.Replace("\"rgb-columns\"", "\"ours\"", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(Path.Combine(folder, "broken.json"), "{ \"name\": ", TestContext.Current.CancellationToken);
        var (code, output, error) = await _program.RunAsync("profile", "list");
        Assert.Equal(2, code);
        Assert.Contains("ours", output, StringComparison.Ordinal);
        Assert.Contains("broken.json", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("labelled-line")]
    [InlineData("fixed-width")]
    public async Task Test_of_a_shipped_profile_shows_its_samples(string name)
    {
        var (code, output, error) = await _program.RunAsync("profile", "test", name);
        Assert.True(code == 0, error);
        Assert.Contains("samples give what they must", output, StringComparison.Ordinal);
        Assert.Contains("over-range", output, StringComparison.Ordinal);
    }
}
