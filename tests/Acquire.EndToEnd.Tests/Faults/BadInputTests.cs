using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Faults;

/// <summary>Each mistake gets its own message and its exit code, before anything is read.</summary>
[Trait("speed", "slow")]
public sealed class BadInputTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Unknown_port_is_said_with_its_name()
    {
        await _darkroom.AddLotAsync();
        var port = Path.Combine(_darkroom.Folder, "ttyNothing");
        var (code, _, error) = await ReadAsync(port, "labelled-line", Darkroom.Lot);
        Assert.Equal(3, code);
        Assert.Contains(port, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task File_that_is_no_port_is_refused()
    {
        await _darkroom.AddLotAsync();
        var port = Path.Combine(_darkroom.Folder, "letter.txt");
        await File.WriteAllTextAsync(port, "not a port", TestContext.Current.CancellationToken);
        var (code, _, error) = await ReadAsync(port, "labelled-line", Darkroom.Lot);
        Assert.Equal(2, code);
        Assert.Contains(port, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Unknown_lot_lists_those_there_are()
    {
        await _darkroom.AddLotAsync();
        var (code, _, error) = await ReadAsync("/dev/null", "labelled-line", "9999");
        Assert.Equal(2, code);
        Assert.Contains($"There is no lot 9999; the store has {Darkroom.Lot}.", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lot_without_reference_says_how_to_read_it()
    {
        await _darkroom.DoAsync("lot", "add", "77", "--process", "c41");
        var (code, _, error) = await ReadAsync("/dev/null", "labelled-line", "77");
        Assert.Equal(2, code);
        Assert.Contains("acquire lot reference 77", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Profile_with_an_error_names_file_line_and_column()
    {
        await _darkroom.AddLotAsync();
        var file = Path.Combine(_darkroom.Folder, "mine.json");
        await File.WriteAllTextAsync(
            file,
            "{\n  \"name\": \"mine\",\n  \"title\": \"mine\",\n  \"lines\": [ { \"template\": \"R {rde}\", \"means\": \"reading\" } "
            + "],\n  \"samples\": []\n}\n",
            TestContext.Current.CancellationToken);
        var (code, _, error) = await ReadAsync("/dev/null", file, Darkroom.Lot);
        Assert.Equal(2, code);
        Assert.Contains("mine.json", error, StringComparison.Ordinal);
        Assert.Matches(@"\b[1-6]:\d+|line [1-6]", error);
        Assert.Equal((code, error), await TestProfileAsync(file));
    }

    [Fact]
    public async Task Unknown_profile_lists_those_there_are()
    {
        await _darkroom.AddLotAsync();
        var (code, _, error) = await ReadAsync("/dev/null", "no-such-profile", Darkroom.Lot);
        Assert.Equal(2, code);
        Assert.Contains("labelled-line", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Data_folder_that_cannot_be_written_is_a_store_problem()
    {
        var file = Path.Combine(_darkroom.Folder, "data");
        await File.WriteAllTextAsync(file, "a file where the folder should be", TestContext.Current.CancellationToken);
        var (code, _, error) = await _darkroom.RunAsync("lot", "list");
        Assert.Equal(4, code);
        Assert.Contains(file, error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("read")]
    [InlineData("read", "--reads", "three")]
    [InlineData("lot", "add")]
    [InlineData("dance")]
    [InlineData("lot", "add", "1", "--process", "c41", "--expires", "31.12.2027")]
    [InlineData("lot", "add", "1", "--process", "c41", "--factor", "ld 0,01 0 0")]
    [InlineData("lot", "add", "1", "--process", "c41", "--factor", "sky 0.01 0 0")]
    [InlineData("lot", "add", "1", "--process", "x-99")]
    [InlineData("strip", "show", "0000")]
    public async Task Wrong_usage_exits_with_2_and_says_something(params string[] arguments)
    {
        var (code, _, error) = await _darkroom.RunAsync(arguments);
        Assert.Equal(2, code);
        Assert.NotEmpty(error);
        Assert.DoesNotContain("   at Acquire", error, StringComparison.Ordinal);
    }

    private Task<(int Code, string Out, string Error)> ReadAsync(string port, string profile, string lot) =>
        _darkroom.RunAsync("read", "--port", port, "--profile", profile, "--lot", lot);

    private async Task<(int, string)> TestProfileAsync(string file)
    {
        var (code, _, error) = await _darkroom.RunAsync("profile", "test", file);
        return (code, error);
    }
}
