using Microsoft.Extensions.Time.Testing;

namespace Acquire.Tests.Commands;

/// <summary>
/// What is said to a user who reads each patch once, never ran a test and types the reference: at the command line, with real store files.
/// </summary>
[Trait("speed", "slow")]
public sealed class AssumptionCommandTests : IDisposable
{
    private const string Assumed = "rests on an assumed repeatability";

    private static readonly (string Key, double R, double G, double B)[] Aims =
    [
        ("dmin", 0.26, 0.62, 0.80), ("ld", 0.46, 0.84, 1.04), ("hd", 1.26, 1.74, 2.00), ("dmax", 2.12, 2.58, 2.92),
        ("yellow", 0.37, 0.88, 2.72),
    ];

    private readonly InMemory _program = new() { Time = new FakeTimeProvider(new DateTimeOffset(2026, 3, 20, 20, 0, 0, TimeSpan.Zero)) };

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Reference_says_how_its_values_came_about_and_its_aims_are_known_to_that()
    {
        await ReferenceAsync("A");
        await ReferenceAsync("B", "--reads", "9");
        await ReferenceAsync("C", "--from-list", "--uncertainty", "0.012");
        await ReferenceAsync("D", "--reads", "4", "--instrument", "labelled-line");

        var (once, nine, list) = (await UncertaintyAsync("A"), await UncertaintyAsync("B"), await UncertaintyAsync("C"));
        Assert.InRange(nine / once, 0.3, 0.5);
        Assert.Equal(Math.Sqrt((0.012 * 0.012) + (0.01 * 0.01 / 12)), list, 1e-6);
        Assert.Contains("Nobody said how its values were read", await ShowAsync("A"), StringComparison.Ordinal);
        Assert.Contains("the mean of 9 reads with an instrument that was not named", await ShowAsync("B"), StringComparison.Ordinal);
        Assert.Contains("of the maker's list, each taken as known to u = 0.012", await ShowAsync("C"), StringComparison.Ordinal);
        Assert.Contains("the mean of 4 reads with labelled-line", await ShowAsync("D"), StringComparison.Ordinal);
        var origin = (await _program.JsonAsync("lot", "show", "D")).GetProperty("lot").GetProperty("referenceOrigin");
        Assert.Equal((4, "labelled-line"), (origin.GetProperty("reads").GetInt32(), origin.GetProperty("profile").GetString()));
    }

    [Theory]
    [InlineData("--from-list", "needs --uncertainty")]
    [InlineData("--uncertainty 0.01", "goes with --from-list")]
    [InlineData("--from-list --uncertainty 0.01 --reads 3", "read by nobody")]
    [InlineData("--from-list --uncertainty 1.5", "between 0 and 1")]
    [InlineData("--instrument unheard-of", "unheard-of")]
    public async Task Origin_that_contradicts_itself_is_refused_and_nothing_is_kept(string said, string expected)
    {
        await _program.RunAsync("lot", "add", "A", "--process", "c41");
        var (code, _, error) = await _program.RunAsync(["lot", "reference", "A", .. Values(), .. said.Split(' ')]);

        Assert.Equal(2, code);
        Assert.Contains(expected, error, StringComparison.Ordinal);
        Assert.Contains("No reference yet", await ShowAsync("A"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Assumptions_are_settled_count_and_have_bounds()
    {
        await ReferenceAsync("A");
        await ImportAsync("A", 1, _ => 0);
        var usual = await LdAsync();
        Assert.Contains("assumed repeatability  0.010,", (await _program.RunAsync("strip", "assume")).Out, StringComparison.Ordinal);

        var (code, output, error) = await _program.RunAsync("strip", "assume", "--repeatability", "0.004", "--zero", "0.002");

        Assert.True(code == 0, error);
        Assert.Contains("within ±0.002", output, StringComparison.Ordinal);
        Assert.True(await LdAsync() < 0.6 * usual, "a better instrument is assumed, so more is known");
        foreach (var wrong in (string[][])[["--repeatability", "0"], ["--freedom", "0.5"], ["--zero", "-0.01"]])
        {
            (code, _, error) = await _program.RunAsync(["strip", "assume", .. wrong]);
            Assert.Equal(2, code);
            Assert.Contains("expected", error, StringComparison.Ordinal);
        }

        Assert.Contains("0.0125", (await _program.RunAsync("strip", "assume", "--usual")).Out, StringComparison.Ordinal);
        Assert.Equal(usual, await LdAsync(), 1e-9);
    }

    [Fact]
    public async Task Every_screen_and_file_says_what_rests_on_an_assumption()
    {
        await ReferenceAsync("A");
        await ImportAsync("A", 4, _ => 0.06);
        var id = (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;

        foreach (var command in (string[][])[["strip", "list"], ["strip", "show", id], ["daily"], ["chart"]])
        {
            var (code, output, error) = await _program.RunAsync(command);
            Assert.True(code is 0 or 1, error);
            Assert.Contains(Assumed, output.ReplaceLineEndings(" ").Replace("  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        }

        var show = (await _program.RunAsync("strip", "show", id)).Out;
        Assert.Matches(@"±0\.\d{3}\*", show);
        Assert.Contains(
            "A repeatability test of ten minutes would put the instrument's own figure in place", show, StringComparison.Ordinal);
        Assert.Contains("said of the strip as a whole", show, StringComparison.Ordinal);
        Assert.Matches(@"Noise adds to a spread; without that it is about 0\.\d+, between 0\.\d+ and 0\.\d+ with 95 %", show);
        foreach (var file in (string[])["strips.csv", "strips.jsonl", "chart.svg", "report.html"])
        {
            Assert.Contains(
                file is "strips.csv" or "strips.jsonl" ? "repeatability and zero" : Assumed,
                await FileAsync(file), StringComparison.Ordinal);
        }

        var json = await _program.JsonAsync("strip", "show", id);
        Assert.Equal("repeatability and zero", json.GetProperty("restsOnAssumed").GetString());
    }

    /// <summary>
    /// Strips to three decimals and to two, level and drifting by the display's last digit: three of a kind lie exactly on a model, and
    /// neither is anything claimed beyond them.
    /// </summary>
    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    public async Task Handful_of_strips_read_once_claims_nothing_beyond_them(int strips)
    {
        await ReferenceAsync("A");
        await ImportAsync("A", strips, i => i % 2 == 0 ? 0 : 0.01);
        var id = (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;

        foreach (var command in (string[][])[["life"], ["causes", id], ["daily"], ["chart"], ["strip", "show", id], ["strip", "list"]])
        {
            var (code, output, error) = await _program.RunAsync(command);
            Assert.True(code is 0 or 1 || (code == 2 && command is ["life"]), $"{string.Join(' ', command)}: {code} {error}");
            Assert.DoesNotContain("   at Acquire", output + error, StringComparison.Ordinal);
            Assert.DoesNotContain("NaN", output, StringComparison.Ordinal);
            Assert.DoesNotContain(": out of control in", output, StringComparison.Ordinal);
            Assert.DoesNotContain("STOP", output, StringComparison.Ordinal);
        }

        var days = (await _program.JsonAsync("daily")).GetProperty("lines")[0];
        Assert.Equal(0, days.GetProperty("moving").GetArrayLength());
        Assert.Contains(Assumed, await FileAsync("report.html"), StringComparison.Ordinal);
    }

    private static IEnumerable<string> Values() => Aims.SelectMany(
        a => new[] { "--value", string.Create(CultureInfo.InvariantCulture, $"{a.Key} {a.R:0.00} {a.G:0.00} {a.B:0.00}") });

    private async Task ReferenceAsync(string lot, params string[] origin)
    {
        await _program.RunAsync("lot", "add", lot, "--process", "c41");
        var (code, _, error) = await _program.RunAsync(["lot", "reference", lot, .. Values(), .. origin]);
        Assert.True(code == 0, error);
    }

    private async Task<double> UncertaintyAsync(string lot) => (await _program.JsonAsync("lot", "show", lot)).GetProperty("aims")[0]
        .GetProperty("uncertainty").GetDouble();

    private async Task<string> ShowAsync(string lot) => (await _program.RunAsync("lot", "show", lot)).Out;

    private async Task<double> LdAsync()
    {
        var id = (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;
        return (await _program.JsonAsync("strip", "show", id)).GetProperty("parameters").EnumerateArray()
            .First(p => p.GetProperty("key").GetString() == "ld").GetProperty("uncertainty").GetDouble();
    }

    /// <summary>Strips on aim but for a shift of LD, one a day, each patch read once; D-min is the same on all.</summary>
    private async Task ImportAsync(string lot, int strips, Func<int, double> shift)
    {
        var rows = Enumerable.Range(0, strips).SelectMany(i => Aims.Select(a => string.Create(
            CultureInfo.InvariantCulture,
            $"s{i},2026-03-{i + 2:00}T19:00:00Z,{lot},dip tank,D7,{a.Key},1,"
            + $"{a.R + Of(a.Key, i):0.00},{a.G + Of(a.Key, i):0.00},{a.B + Of(a.Key, i):0.00}")));
        var file = Path.Combine(_program.Folder, "strips.csv");
        await File.WriteAllLinesAsync(
            file, ["strip,processed_at,lot,line,bottle,patch,read,red,green,blue", .. rows], TestContext.Current.CancellationToken);
        var (code, _, error) = await _program.RunAsync("import", "strips", file);
        Assert.True(code == 0, error);
        File.Delete(file);

        double Of(string patch, int i) => patch == "ld" ? shift(i) : 0;
    }

    private async Task<string> FileAsync(string name)
    {
        var file = Path.Combine(_program.Folder, name);
        string[] command = Path.GetExtension(name) switch
        {
            ".html" => ["report", "--out", file],
            ".svg" => ["chart", "--out", file],
            ".jsonl" => ["export", "--format", "jsonl", "--out", file],
            _ => ["export", "--out", file],
        };
        var (code, _, error) = await _program.RunAsync(command);
        Assert.True(code is 0 or 1, error);
        return await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken);
    }
}
