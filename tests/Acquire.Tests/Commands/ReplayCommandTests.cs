namespace Acquire.Tests.Commands;

public sealed class ReplayCommandTests : IDisposable
{
    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Each_reading_and_line_is_one_json_object_with_the_decimals_shown()
    {
        var (code, output, error) = await ReplayAsync(
            "labelled-line", "No. 1\r\nR 0.26 G 0.62 B 0.80\r\nR >4.0 G 0.86 B 1.04\r\nhallo \"you\"\r\n", "--json");
        Assert.True(code == 0, error);
        var lines = output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal("""{"red":0.26,"green":0.62,"blue":0.80,"visual":null,"state":"reading"}""", lines[0]);
        Assert.Equal(
            """{"red":null,"green":null,"blue":null,"visual":null,"state":"over-range","channels":["red"],"line":"R >4.0 G 0.86 B 1.04"}""",
            lines[1]);
        Assert.StartsWith(
            """{"red":null,"green":null,"blue":null,"visual":null,"state":"unmatched","line":"hallo \"you\"","reason":"Nearest""",
            lines[2], StringComparison.Ordinal);
        Assert.Equal(3, lines.Length);
        Assert.Contains("4 lines: 1 reading, 1 over-range, 1 ignored, 1 unmatched.", error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, "reading")]
    [InlineData(true, "partial", "partial", "reading")]
    public async Task Single_channels_are_printed_only_when_all_is_asked_for(bool all, params string[] states)
    {
        var (_, output, _) =
            await ReplayAsync("channel-lines-labelled", "R= 0.26\nG= 0.62\nB= 0.80\n", all ? ["--json", "--all"] : ["--json"]);
        var printed = output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(l => System.Text.Json.JsonDocument.Parse(l).RootElement.GetProperty("state").GetString());
        Assert.Equal(states, printed);
    }

    [Fact]
    public async Task People_get_a_table()
    {
        var (_, output, _) = await ReplayAsync("vrgb-columns", "+0.580 +0.262 +0.618 +0.803\n");
        Assert.Equal(
            ["   seconds  state           red  green   blue visual  line", "     0.000  reading       0.262  0.618  0.803  0.580"],
            output.Split('\n', StringSplitOptions.RemoveEmptyEntries));
    }

    [Fact]
    public async Task Capture_with_a_damaged_line_is_bad_input()
    {
        var (code, output, error) = await ReplayAsync("labelled-line", "# acquire capture 1\nR 0.26\n\n", "--json");
        Assert.Equal((2, ""), (code, output));
        Assert.Contains("lines.txt, line 2:", error, StringComparison.Ordinal);
    }

    private async Task<(int Code, string Out, string Error)> ReplayAsync(string profile, string content, params IEnumerable<string> options)
    {
        var file = Path.Combine(_program.Folder, "lines.txt");
        await File.WriteAllTextAsync(file, content, TestContext.Current.CancellationToken);
        return await _program.RunAsync(["replay", file, "--profile", profile, .. options]);
    }
}
