using System.Text.Json;
using System.Xml.Linq;

namespace Acquire.Tests.Commands;

public sealed class CheckCommandTests : IDisposable
{
    private static readonly string[] Good =
    [
        "zero,1,0.00,0.01,0.00",
        "zero,2,0.00,0.00,0.00", "mid,1,1.02,1.05,1.10", "mid,2,1.03,1.05,1.10", "high,1,2.95,3.01,3.05", "high,2,2.96,3.01,3.05",
    ];

    private readonly InMemory _program = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Plaque_added_is_shown_as_entered()
    {
        await AddPlaqueAsync();
        var plaque = await _program.JsonAsync("plaque", "show", "Bench");

        Assert.Equal(0.02, plaque.GetProperty("tolerance").GetDouble());
        Assert.Equal(["zero", "mid", "high"], plaque.GetProperty("patches").EnumerateArray().Select(p => p.GetProperty("key").GetString()));
        Assert.Equal(0.015, plaque.GetProperty("patches")[2].GetProperty("uncertainty").GetDouble());
        Assert.Contains("never", (await _program.RunAsync("plaque", "list")).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("low 0.05 0.06", "a patch and three densities")]
    [InlineData("low 0.05 0.06 x", "'x' is no density")]
    [InlineData("low 0.05 0.06 0.07 ± much", "'much' is no uncertainty")]
    [InlineData("low 0.05 0.06 0.07 ± 5", "between 0 and 1")]
    [InlineData("low 4 4 4", "from thin to dense")]
    public async Task Plaque_that_cannot_be_is_refused(string patch, string said)
    {
        var (code, _, error) = await _program.RunAsync("plaque", "add", "x", "--patch", patch, "--patch", "high 3 3 3");

        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Check_from_file_that_passes_ends_with_0_and_stands_in_the_list()
    {
        await AddPlaqueAsync();
        var (code, output, error) = await _program.RunAsync("check", "--plaque", "bench", "--from", await FileAsync(Good));

        Assert.True(code == 0, error);
        Assert.StartsWith("PASSED", output, StringComparison.Ordinal);
        Assert.Contains("Next check due", output, StringComparison.Ordinal);
        var check = Assert.Single((await _program.JsonAsync("check", "list")).EnumerateArray());
        Assert.True(check.GetProperty("passed").GetBoolean());
        Assert.Equal(
            0.005,
            check.GetProperty("channels").GetProperty("red").GetProperty("patches").GetProperty("mid").GetProperty("error").GetDouble(),
            9);
    }

    [Fact]
    public async Task Check_from_file_that_fails_ends_with_1_and_says_what_to_do()
    {
        await AddPlaqueAsync();
        var reads = Good.Select(r => r.Replace(",3.01,", ",3.09,", StringComparison.Ordinal));
        var (code, output, _) = await _program.RunAsync("check", "--plaque", "bench", "--from", await FileAsync(reads));

        Assert.Equal(1, code);
        Assert.StartsWith("FAILED", output, StringComparison.Ordinal);
        Assert.Contains("clean aperture", output, StringComparison.Ordinal);
        Assert.Contains("+0.080", (await _program.RunAsync("check", "list")).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("mid,3,1.02,1.05", "line 8: blue is empty")]
    [InlineData("mid,3,1.02,high,1.10", "line 8: green is 'high'")]
    [InlineData("mid,3,1,02,1,05,1,10", "line 8: the row has 8 cells, the heading 5")]
    [InlineData("ld,1,0.1,0.1,0.1", "no patch 'ld'")]
    [InlineData("mid,3,41.2,1.05,1.10", "line 8: red is 41.2")]
    [InlineData("mid,2,1.02,1.05,1.10", "stands in the file already")]
    public async Task Check_from_file_with_bad_reads_is_refused_and_keeps_nothing(string row, string said)
    {
        await AddPlaqueAsync();
        var (code, _, error) = await _program.RunAsync("check", "--plaque", "bench", "--from", await FileAsync([.. Good, row]));

        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.Ordinal);
        Assert.Empty((await _program.JsonAsync("check", "list")).EnumerateArray());
    }

    /// <summary>As other programs write it: a byte order mark, semicolons, decimal commas, a column of their own.</summary>
    [Fact]
    public async Task Check_from_file_of_a_spreadsheet_gives_the_same()
    {
        await AddPlaqueAsync();
        var plain = await _program.JsonAsync("check", "--plaque", "bench", "--from", await FileAsync(Good));
        var rows = Good.Select((r, i) => $"{i};" + r.Replace(',', ';').Replace('.', ','));
        var file = Path.Combine(_program.Folder, "sheet.csv");
        await File.WriteAllTextAsync(
            file, string.Join("\r\n", ["No;Patch;Read;Red;Green;Blue", .. rows]), new System.Text.UTF8Encoding(true), Token);
        var sheet = await _program.JsonAsync("check", "--plaque", "bench", "--from", file);

        Assert.Equal(plain.GetProperty("channels").ToString(), sheet.GetProperty("channels").ToString());
    }

    [Fact]
    public async Task Check_from_file_of_equal_repeats_lets_the_display_step_speak()
    {
        await AddPlaqueAsync();
        string[] equal = ["zero,1,0.00,0.00,0.00", "mid,1,1.02,1.05,1.10", "high,1,2.95,3.01,3.05"];
        var check = await _program.JsonAsync("check", "--plaque", "bench", "--from", await FileAsync(
            Enumerable.Range(1, 3).SelectMany(n => equal.Select(r => r.Replace(",1,", $",{n},", StringComparison.Ordinal)))));

        var red = check.GetProperty("channels").GetProperty("red");
        Assert.Equal(0.01 / Math.Sqrt(12), red.GetProperty("patches").GetProperty("zero").GetProperty("uncertainty").GetDouble(), 1e-9);
        Assert.True(red.GetProperty("slopeHigh").GetDouble() - red.GetProperty("slopeLow").GetDouble() > 0.003);
    }

    [Fact]
    public async Task Check_from_file_with_profile_is_of_that_instrument_and_judged_by_its_test()
    {
        await AddPlaqueAsync();
        var test = Path.Combine(_program.Folder, "test.csv");
        await File.WriteAllLinesAsync(
            test,
            ["patch,read,red,green,blue", "ld,1,0.45,0.86,1.04", "ld,2,0.47,0.88,1.06", "ld,3,0.45,0.86,1.04", "ld,4,0.46,0.87,1.05"],
            Token);
        Assert.Equal(0, (await _program.RunAsync("repeatability", "--from", test, "--profile", "labelled-line")).Code);
        var single = await FileAsync(Good.Where(r => r.Contains(",1,", StringComparison.Ordinal)));
        var of = await _program.JsonAsync("check", "--plaque", "bench", "--from", single, "--profile", "labelled-line");
        var other = await _program.JsonAsync("check", "--plaque", "bench", "--from", single, "--profile", "rgb-columns");

        Assert.Equal("labelled-line", of.GetProperty("instrument").GetProperty("profile").GetString());
        Assert.Equal(0.00957, Uncertainty(of), 5);
        Assert.Equal(0.00289, Uncertainty(other), 5);
        var listed = (await _program.JsonAsync("check", "list")).EnumerateArray().ToList();
        Assert.True(JsonElement.DeepEquals(of, listed[0]) && JsonElement.DeepEquals(other, listed[1]), $"{listed[0]}\n{of}");

        static double Uncertainty(JsonElement check) =>
            check.GetProperty("channels").GetProperty("red").GetProperty("patches").GetProperty("zero").GetProperty("uncertainty")
                .GetDouble();
    }

    [Fact]
    public async Task Check_without_every_patch_or_source_is_refused()
    {
        await AddPlaqueAsync();
        Assert.Contains(
            "missing: high",
            (await _program.RunAsync("check", "--plaque", "bench", "--from", await FileAsync(Good.Take(4)))).Error,
            StringComparison.Ordinal);
        Assert.Equal(2, (await _program.RunAsync("check", "--plaque", "bench")).Code);
        Assert.Equal(2, (await _program.RunAsync("check")).Code);
    }

    [Fact]
    public async Task Html_report_stands_alone()
    {
        var page = Path.Combine(_program.Folder, "report.html");
        var (code, _, error) = await _program.RunAsync(
            "repeatability", "--from", await FileAsync([.. Good, "<b>&,1,1,1,1", "<b>&,2,1,1,1"]), "--process", "c41", "--html", page);

        Assert.True(code == 0, error);
        // A namespace is a name and nothing that is fetched.
        var text = (await File.ReadAllTextAsync(page, Token)).Replace(" xmlns=\"http://www.w3.org/", " xmlns=\"", StringComparison.Ordinal);
        foreach (var forbidden in (string[])["<script", "http", "src=", "href=", "@import", "url(", "<b>"])
        {
            Assert.DoesNotContain(forbidden, text, StringComparison.OrdinalIgnoreCase);
        }

        var svg =
            XElement.Parse(text[text.IndexOf("<svg", StringComparison.Ordinal)..(text.IndexOf("</svg>", StringComparison.Ordinal) + 6)]);
        int Count(string name) => svg.Elements().Count(e => e.Name.LocalName == name);
        Assert.Equal((8, 8 + 1, 8), (Count("circle"), Count("rect"), Count("path"))); // The paper is one more.
        Assert.Contains("@media print", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plaque_certified_in_visual_alone_is_checked_in_visual_alone()
    {
        var (code, _, error) = await _program.RunAsync(
            "plaque",
            "add", "wedge", "--channels", "visual", "--patch", "zero 0", "--patch", "mid 1.04 ± 0.01", "--patch", "high 2.98 ± 0.02");
        Assert.True(code == 0, error);
        var shown = (await _program.JsonAsync("plaque", "show", "wedge")).GetProperty("patches")[1].GetProperty("certified");
        Assert.Equal("visual", Assert.Single(shown.EnumerateObject()).Name);

        var file = Path.Combine(_program.Folder, "visual.csv");
        await File.WriteAllLinesAsync(
            file, ["patch,read,visual", "zero,1,0.00", "zero,2,0.01", "mid,1,1.04", "mid,2,1.05", "high,1,2.98", "high,2,2.98"], Token);
        var check = await _program.JsonAsync("check", "--plaque", "wedge", "--from", file);
        Assert.True(check.GetProperty("passed").GetBoolean());
        Assert.Equal("visual", Assert.Single(check.GetProperty("channels").EnumerateObject()).Name);
        Assert.Contains("V +0.00", (await _program.RunAsync("check", "list")).Out, StringComparison.Ordinal);

        await File.WriteAllLinesAsync(file, ["patch,read,visual", "zero,1,0.00", "mid,1,1.14", "high,1,3.18"], Token);
        Assert.Equal(1, (await _program.RunAsync("check", "--plaque", "wedge", "--from", file)).Code);
    }

    [Theory]
    [InlineData("visual", "mid 1 1 1", "its density in visual")]
    [InlineData("violet", "mid 1", "'violet' is no channel")]
    [InlineData("red,red", "mid 1 1", "each channel once")]
    [InlineData(",", "mid 1", "each channel once")]
    public async Task Channels_that_do_not_fit_are_refused(string channels, string patch, string said)
    {
        var (code, _, error) = await _program.RunAsync("plaque", "add", "x", "--channels", channels, "--patch", "zero 0", "--patch", patch);

        Assert.Equal(2, code);
        Assert.Contains(said, error.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    private async Task AddPlaqueAsync()
    {
        var (code, _, error) = await _program.RunAsync(
            "plaque", "add", "bench",
            "--patch", "zero 0 0 0", "--patch", "mid 1.02 1.05 1.10 ± 0.01", "--patch", "high 2.95 3.01 3.05 +- 0.015", "--due", "14");
        Assert.True(code == 0, error);
    }

    private async Task<string> FileAsync(IEnumerable<string> rows)
    {
        var file = Path.Combine(_program.Folder, "reads.csv");
        await File.WriteAllLinesAsync(file, ["patch,read,red,green,blue", .. rows], Token);
        return file;
    }
}
