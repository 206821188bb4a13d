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
    public async Task Settled_level_counts_on_charts_too()
    {
        var ids = await ImportAsync(0.50, 0.46);
        Assert.Equal("inControl", await VerdictAsync());
        _ = await _program.RunAsync("strip", "level", "0.9999");
        Assert.Equal("undecided", await VerdictAsync());

        async Task<string?> VerdictAsync() => (await _program.JsonAsync("chart", "--parameter", "ld")).GetProperty("panels")[0]
            .GetProperty("lines").EnumerateArray().Single(l => l.GetProperty("channel").GetString() == "red")
            .GetProperty("points").EnumerateArray().Single(p => p.GetProperty("stripId").GetString() == ids[0])
            .GetProperty("verdict").GetString();
    }

    [Fact]
    public async Task Strips_taken_together_say_what_rests_on_an_assumption()
    {
        var ids = await ImportAsync(0.50, 0.46);
        var (_, text, _) = await _program.RunAsync("strip", "show", ids[0], "--with", ids[1]);
        var json = await _program.JsonAsync("strip", "show", ids[0], "--with", ids[1]);

        Assert.Matches(@"±0\.[0-9]{3}\*", text);
        Assert.Contains("* rests on an assumed zero", text, StringComparison.Ordinal);
        Assert.Contains(json.GetProperty("parameters").EnumerateArray(), p =>
            p.GetProperty("key").GetString() == "ld" && p.GetProperty("restsOnAssumed").GetString() == "zero");
    }

    [Fact]
    public async Task Strips_taken_together_scatter_scatter_apart_from_their_reading()
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

    [Fact]
    public async Task Guard_band_settles_the_level_and_the_other_way_round()
    {
        Assert.Contains("97.72 %", (await _program.RunAsync("strip", "level", "--guard-band", "1")).Out, StringComparison.Ordinal);
        var json = await _program.JsonAsync("strip", "level", "0.95");

        Assert.Equal(0.822427, json.GetProperty("guardBand").GetDouble(), 1e-6);
        Assert.Equal(2, (await _program.RunAsync("strip", "level", "--guard-band", "0")).Code);
        Assert.Equal(2, (await _program.RunAsync("strip", "level", "0.9", "--guard-band", "1")).Code);
    }

    [Fact]
    public async Task Risks_of_a_strip_agree_with_its_verdicts_and_say_nothing_of_a_short_history()
    {
        var ids = await ImportAsync(0.54, 0.46);
        var strip = (await _program.JsonAsync("strip", "level", "--strip", ids[0])).GetProperty("strip");

        Assert.All(strip.GetProperty("results").EnumerateArray(), r =>
        {
            var (deviation, verdict) = (r.GetProperty("deviation").GetDouble(), r.GetProperty("verdict").GetString());
            var to = r.GetProperty("acceptTo").ValueKind == JsonValueKind.Null ? double.NaN : r.GetProperty("acceptTo").GetDouble();
            Assert.Equal(JsonValueKind.Null, r.GetProperty("globalConsumerRisk").ValueKind);
            Assert.True(verdict != "in" || !(deviation > to + 1e-9), $"in at {deviation}, accepted to {to}");
            Assert.True(
                verdict != "undecided" || !(deviation >= 0 && deviation < to - 1e-9), $"undecided at {deviation}, accepted to {to}");
        });
        var text = (await _program.RunAsync("strip", "level", "--strip", ids[0])).Out;
        Assert.Contains("Nothing is said of strips to come: the lot has 2 strips", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Long_history_tells_the_risks_of_strips_to_come()
    {
        var ids = await ImportAsync([.. Enumerable.Range(0, 12).Select(i => 0.46 + (0.03 * ((i * 7 % 5) - 2)))]);
        var red =
            (await _program.JsonAsync("strip", "level", "--strip", ids[0])).GetProperty("strip").GetProperty("results").EnumerateArray()
            .Single(r => r.GetProperty("key").GetString() == "ld" && r.GetProperty("channel").GetString() == "red");

        Assert.InRange(red.GetProperty("globalConsumerRisk").GetDouble(), 0, 0.05);
        Assert.InRange(red.GetProperty("globalProducerRisk").GetDouble(), 0, 1);
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
