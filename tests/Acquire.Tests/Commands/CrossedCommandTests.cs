namespace Acquire.Tests.Commands;

/// <summary>Readings of several persons or instruments at the command line.</summary>
public sealed class CrossedCommandTests : IDisposable
{
    private const string Heading = "patch,read,person,red,green,blue";

    private static readonly string[] Rows =
    [
        .. from patch in new[] { ("ld", 0.45m), ("hd", 1.25m), ("dmax", 2.10m) }
           from person in new[] { ("evening", 0.00m), ("staff", 0.02m), ("day", 0.01m) }
           from read in new[] { 1, 2 }
           let red = patch.Item2 + person.Item2 + (0.01m * (read - 1))
           select string.Create(CultureInfo.InvariantCulture, $"{patch.Item1},{read},{person.Item1},{red},{red + 0.4m},{red + 0.6m}"),
    ];

    private readonly InMemory _program = new() { BeginsWithStore = false };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Study_comes_as_json_text_and_page()
    {
        var (file, page) = (await FileAsync(Heading, Rows), Path.Combine(_program.Folder, "gauge.html"));
        var (code, output, error) = await _program.RunAsync(
            "repeatability", "--from", file, "--tolerance", "0.12", "--process", "c41", "--html", page);
        Assert.True(code == 0, error);
        Assert.Contains("Gauge study of 3 patches × 3 persons, 2 reads each.", output, StringComparison.Ordinal);
        Assert.Contains("densities apart in the range of these patches", output, StringComparison.Ordinal);
        Assert.Contains("reproducibility", output, StringComparison.Ordinal);
        Assert.Contains("6 σ of its width", output, StringComparison.Ordinal);
        Assert.Contains(
            "Analysis of variance", await File.ReadAllTextAsync(page, TestContext.Current.CancellationToken), StringComparison.Ordinal);

        var json = await _program.JsonAsync("repeatability", "--from", file, "--tolerance", "0.12");
        var red = json.GetProperty("channels").GetProperty("red");
        var parts = red.GetProperty("parts").EnumerateArray().ToDictionary(p => p.GetProperty("kind").GetString()!);
        Assert.Equal(["patch", "person"], json.GetProperty("factors").EnumerateArray().Select(f => f.GetString()));
        // Person by hand: levels 0, 0.02, 0.01 have a variance of 0.0001, less the reads' part of a mean of six.
        var within = red.GetProperty("used").GetProperty("residual").GetProperty("meanSquare").GetDouble();
        Assert.Equal(0.0001 - (within / 6), parts["reproducibility"].GetProperty("variance").GetDouble(), 1e-12);
        Assert.Equal(
            6 * parts["gauge"].GetProperty("s").GetDouble() / 0.12, parts["gauge"].GetProperty("shareOfTolerance").GetDouble(), 1e-12);
        Assert.Equal(3, red.GetProperty("withInteraction").GetProperty("effects").GetArrayLength());
        Assert.Equal(2, red.GetProperty("withoutInteraction").GetProperty("effects").GetArrayLength());
    }

    [Fact]
    public async Task Unequal_reads_are_refused_and_what_is_missing_is_named()
    {
        var (code, output, error) = await _program.RunAsync("repeatability", "--from", await FileAsync(Heading, Rows.SkipLast(1)));

        Assert.Equal((2, ""), (code, output));
        Assert.Contains("patch dmax, person day: 1 read, where others have 2", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Empty_person_is_refused_with_its_line()
    {
        var (code, _, error) = await _program.RunAsync(
            "repeatability", "--from", await FileAsync(Heading, [.. Rows, "ld,3,,0.45,0.85,1.05"]));

        Assert.Equal(2, code);
        Assert.Contains("line 20: person is empty", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Reads_of_several_persons_are_not_kept_as_a_test()
    {
        var (code, _, error) = await _program.RunAsync(
            "repeatability", "--from", await FileAsync(Heading, Rows), "--profile", "labelled-line");

        Assert.Equal(2, code);
        Assert.Contains("one person's on one instrument", error, StringComparison.Ordinal);
        Assert.Empty((await _program.JsonAsync("repeatability", "list")).EnumerateArray());
    }

    [Fact]
    public async Task Column_of_one_person_changes_nothing_and_a_tolerance_is_refused_there()
    {
        var file = await FileAsync(Heading, ["ld,1,staff,0.45,0.86,1.04", "ld,2,staff,0.46,0.86,1.05"]);

        Assert.Equal(2, (await _program.JsonAsync("repeatability", "--from", file)).GetProperty("patches").GetProperty("ld")
            .GetProperty("channels").GetProperty("red").GetProperty("n").GetInt32());
        Assert.Contains("--tolerance belongs", (await _program.RunAsync("repeatability", "--from", file, "--tolerance", "0.1")).Error,
            StringComparison.Ordinal);
    }

    private async Task<string> FileAsync(string heading, IEnumerable<string> rows)
    {
        var file = Path.Combine(_program.Folder, "class.csv");
        await File.WriteAllLinesAsync(file, [heading, .. rows], TestContext.Current.CancellationToken);
        return file;
    }
}
