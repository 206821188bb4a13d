using System.Text.Json;

namespace Acquire.Tests.Commands;

/// <summary>Verdicts at the command line, on strips that were typed in.</summary>
public sealed class VerdictCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Json_of_a_strip_has_verdict_and_probability_of_each_parameter()
    {
        var ids = await ImportAsync(0.54, 0.46);
        var strip = (await _program.RunAsync("strip", "show", ids[0], "--json")).Out;
        var parameters = JsonDocument.Parse(strip).RootElement.GetProperty("parameters").EnumerateArray().ToList();
        var red = parameters.Single(p => p.GetProperty("key").GetString() == "ld" && p.GetProperty("channel").GetString() == "red");

        Assert.Equal("undecided", red.GetProperty("verdict").GetString());
        Assert.InRange(red.GetProperty("probabilityInside").GetDouble(), 0.4, 0.6);
        Assert.Equal("LD", red.GetProperty("name").GetString());
        Assert.Equal(0.08, red.GetProperty("deviation").GetDouble(), 1e-9);
        Assert.True(red.GetProperty("uncertainty").GetDouble() > 0);
        Assert.Contains(red.GetProperty("budget").EnumerateArray(), c => c.GetProperty("name").GetString() == "re-placed reads");
    }

    [Fact]
    public async Task Text_says_what_is_undecided_and_what_would_decide()
    {
        var ids = await ImportAsync(0.54, 0.46);
        var (_, text, _) = await _program.RunAsync("strip", "show", ids[0], "--budget");
        var (_, other, _) = await _program.RunAsync("strip", "show", ids[1]);

        Assert.Contains("undecided in LD red", text, StringComparison.Ordinal);
        Assert.Matches("LD red: inside ±0.08 with [0-9.]+ %; (more reads would not decide; only a second strip can|[0-9]+ more reads? "
            + "of each patch would decide)", text);
        Assert.Matches(@"LD red\s+0\.[0-9]{4}", text);
        Assert.Contains("in control in everything that has limits", other, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Level_is_settled_and_counts()
    {
        var ids = await ImportAsync(0.47, 0.46);
        async Task<string?> VerdictAsync(params string[] more) =>
            JsonDocument.Parse((await _program.RunAsync(["strip", "show", ids[0], "--json", .. more])).Out).RootElement
                .GetProperty("verdict")
                .GetString();

        Assert.Equal("in", await VerdictAsync("--level", "0.9"));
        Assert.Equal("undecided", await VerdictAsync("--level", "0.9999"));
        Assert.Contains("99.99 %", (await _program.RunAsync("strip", "level", "0.9999")).Out, StringComparison.Ordinal);
        Assert.Equal("undecided", await VerdictAsync());
        Assert.Equal(2, (await _program.RunAsync("strip", "level", "0.4")).Code);
    }

    [Fact]
    public async Task Strips_taken_together_scatter_apart_from_their_reading()
    {
        var ids = await ImportAsync(0.50, 0.46, 0.47);
        var (code, json, _) = await _program.RunAsync("strip", "show", ids[0], "--with", ids[1], "--with", ids[2], "--json");
        var red = JsonDocument.Parse(json).RootElement.GetProperty("parameters").EnumerateArray()
            .Single(p => p.GetProperty("key").GetString() == "ld" && p.GetProperty("channel").GetString() == "red");

        Assert.Equal(0, code);
        Assert.Equal(3, red.GetProperty("deviations").GetArrayLength());
        Assert.Equal(0.05 / 3, red.GetProperty("mean").GetDouble(), 1e-9);
        Assert.True(red.GetProperty("runScatter").GetDouble() > 0.015);
        Assert.Contains(
            "3 strips taken together",
            (await _program.RunAsync("strip", "show", ids[0], "--with", ids[1], "--with", ids[2])).Out,
            StringComparison.Ordinal);
        Assert.Equal(2, (await _program.RunAsync("strip", "show", ids[0], "--with", ids[0])).Code);
    }

    /// <summary>Strips on aim but for LD red, three reads each that scatter a little.</summary>
    private async Task<List<string>> ImportAsync(params double[] lowRed)
    {
        _ = await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        (string Key, double R, double G, double B)[] aims = [
            ("dmin", 0.26, 0.62, 0.80),
            ("ld", 0.46, 0.84, 1.04),
            ("hd", 1.26, 1.74, 2.00),
            ("dmax", 2.12, 2.58, 2.92),
            ("yellow", 0.37, 0.88, 2.72)];
        var (code, _, error) = await _program.RunAsync(
            ["lot", "reference", "2417", .. aims.SelectMany(
                a => new[] { "--value", string.Create(CultureInfo.InvariantCulture, $"{a.Key} {a.R:0.00} {a.G:0.00} {a.B:0.00}") })]);
        Assert.True(code == 0, error);
        var rows = lowRed.SelectMany((red, i) => aims.SelectMany(a => Enumerable.Range(0, 3).Select(n => string.Create(
            CultureInfo.InvariantCulture,
            $"s{i},2026-03-{i + 1:00}T19:00:00Z,2417,dip "
            + $"tank,D7,{a.Key},{n + 1},{(a.Key == "ld" ? red : a.R) + Step(n):0.000},{a.G + Step(n):0.000},{a.B + Step(n):0.000}"))));
        var file = Path.Combine(_program.Folder, "strips.csv");
        await File.WriteAllLinesAsync(
            file, ["strip,processed_at,lot,line,bottle,patch,read,red,green,blue", .. rows], TestContext.Current.CancellationToken);
        (code, _, error) = await _program.RunAsync("import", "strips", file);
        Assert.True(code == 0, error);
        return [.. (await _program.JsonAsync("strip", "list")).EnumerateArray()
            .OrderBy(s => s.GetProperty("readAt").GetString(), StringComparer.Ordinal)
            .Select(s => s.GetProperty("id").GetString()!)];

        static double Step(int n) => (n - 1) * 0.010;
    }
}
