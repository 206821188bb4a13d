using System.IO.Compression;
using System.Text.Json;
using System.Xml.Linq;
using Acquire.Analysis.Judgement;
using Acquire.Formats.ProcessSheets;
using Microsoft.Data.Sqlite;

namespace Acquire.Tests.Parameters;

/// <summary>
/// Every kind of parameter in everything that takes parameters in, with limits of a single channel. A new kind fails here until it has an
/// example, and then wherever it is not served.
/// </summary>
public sealed class EveryKindTests(EveryKind season) : IClassFixture<EveryKind>, IDisposable
{
    private static readonly Json.Schema.JsonSchema Schema = Json.Schema.JsonSchema.FromText(ProcessSheetSchema.Text());

    private readonly InMemory _other = new();

    public static TheoryData<string> Keys => EveryKind.Keys;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string Newest => season.Strips[^1].Id.ToString();

    public void Dispose() => _other.Dispose();

    [Fact]
    public void Every_kind_there_is_has_an_example() =>
        Assert.Equal(EveryKind.Kinds.Select(k => k.Name).Order(), EveryKind.Parameters.Select(p => p.GetType().Name).Order());

    [Fact]
    public void Every_kind_with_channels_has_limits_of_one_of_them() =>
        Assert.All(EveryKind.Parameters, p => Assert.Equal(p.Channels.Length > 0 ? 1 : 0, p.ChannelLimits.Count));

    [Theory]
    [MemberData(nameof(Keys))]
    public void Judgement_has_a_result_in_every_line_by_the_limits_of_that_line(string key)
    {
        var results = StripJudge.Judge(season.Strips[^1]).Results.Where(r => r.Parameter.Key == key).ToList();

        Assert.Equal(EveryKind.Expected(Get(key)).Select(e => (e.Channel, (Zone?)e.Zone)), results.Select(r => (r.Channel, r.Zone)));
        Assert.All(
            results,
            r => Assert.True(r is { Deviation: not null, StandardUncertainty: > 0, Verdict: not null, OnStrip: true, WhyMissing: null }));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Strip_shows_it_in_text_and_json_with_unit_and_limits(string key)
    {
        var parameter = Get(key);
        var shown = await season.Program.JsonAsync("strip", "show", Newest);
        var (code, text, error) = await season.Program.RunAsync("strip", "show", Newest);

        var results = Rows(shown.GetProperty("parameters"), key);
        Assert.Equal(EveryKind.Expected(parameter).Select(e => (e.Channel?.Word(), Limit(e.IsOwn), parameter.Unit)), results.Select(r =>
            (Text(r, "channel"), r.GetProperty("actionUpper").GetDouble(), Text(r, "unit")!)));
        Assert.True(code is 0 or 1, error);
        Assert.Contains(parameter.Name, text, StringComparison.Ordinal);
        Assert.All(
            EveryKind.Expected(parameter).Where(e => e.IsOwn),
            e => Assert.Contains($"{e.Channel!.Value.Letter()} ±0.50", text, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Process_sheet_says_how_it_is_made_and_comes_back_from_its_file(string key)
    {
        var parameter = Get(key);
        var (_, text, _) = await season.Program.RunAsync("process", "show", "c41");
        var (_, json, _) = await season.Program.RunAsync("process", "show", "c41", "--json");

        Assert.Contains(parameter.MadeOf, text, StringComparison.Ordinal);
        Assert.All(parameter.LimitSources, s => Assert.Contains(s, text, StringComparison.Ordinal));
        AssertSame(parameter, ProcessSheetReader.Read(json, "shown").Get(key));
        Assert.True(Schema.Evaluate(JsonDocument.Parse(json).RootElement).IsValid);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Chart_draws_every_line_and_the_limits_of_each(string key)
    {
        var parameter = Get(key);
        var own = EveryKind.Expected(parameter).Where(e => e.IsOwn).Select(e => e.Channel!.Value).ToList();
        var (svg, png) = (Path.Combine(_other.Folder, "c.svg"), Path.Combine(_other.Folder, "c.png"));
        var chart = await season.Program.JsonAsync("chart", "--parameter", key);
        var (code, text, error) = await season.Program.RunAsync("chart", "--parameter", key);
        await season.Program.RunAsync("chart", "--parameter", key, "--force", "--out", svg);
        await season.Program.RunAsync("chart", "--parameter", key, "--force", "--out", png);

        var panel = Assert.Single(chart.GetProperty("panels").EnumerateArray());
        Assert.Equal(parameter.Lines.Select(l => (l?.Word(), season.Strips.Length)), panel.GetProperty("lines").EnumerateArray().Select(l =>
            (Text(l, "channel"), l.GetProperty("points").GetArrayLength())));
        Assert.DoesNotContain(
            chart.GetProperty("notes").EnumerateArray(), n => n.GetString()!.Contains("is not known of", StringComparison.Ordinal));
        var upper = panel.GetProperty("limits").EnumerateArray().Where(l => l.GetProperty("value").GetDouble() == EveryKind.Wide).ToList();
        Assert.Equal(
            own.Select(c => c.Word()), upper.SelectMany(l => l.GetProperty("channels").EnumerateArray()).Select(c => c.GetString()!));
        Assert.True(code == 0, error);
        Assert.All(own, c => Assert.Contains($"action {c.Letter()}", text, StringComparison.Ordinal));
        var drawn = XDocument.Load(svg).ToString();
        Assert.All(own, c => Assert.Contains($"+0.50 action {c.Letter()}", drawn, StringComparison.Ordinal));
        Assert.True(new FileInfo(png).Length > 1000);
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Tables_of_the_database_hold_its_limits(string key)
    {
        var parameter = Get(key);
        await using var connection =
            new SqliteConnection($"Data Source={Path.Combine(season.Program.Folder, "acquire.db")};Mode=ReadOnly;Pooling=False");
        await connection.OpenAsync(Token);
        await using var command = connection.CreateCommand();
        command.CommandText =
            "SELECT DISTINCT concat_ws(' ', coalesce(channel, 'all'), kind, lower, upper, source) AS t FROM strip_limit WHERE "
            + "parameter_key = @key ORDER BY t";
        command.Parameters.AddWithValue("@key", key);
        var rows = new List<string>();
        await using var reader = await command.ExecuteReaderAsync(Token);
        while (await reader.ReadAsync(Token))
        {
            rows.Add(reader.GetString(0));
        }

        var expected = parameter.AllLimits.SelectMany(l => new[] { ("action", l.Limits.Action), ("control", l.Limits.Control) }
            .Where(k => k.Item2 is not null || l.Channel is not null)
            .Select(k => string.Join(' ', new[] { l.Channel?.Word()
                ?? "all", k.Item1, Number(k.Item2?.Lower), Number(k.Item2?.Upper), k.Item2?.Source ?? "" }.Where(t => t.Length > 0))));
        Assert.Equal(expected.Order(StringComparer.Ordinal), rows.Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Csv_has_a_row_for_every_line(string key)
    {
        var file = Path.Combine(_other.Folder, "strips.csv");
        Assert.Equal(0, (await season.Program.RunAsync("export", "--force", "--out", file)).Code);
        var rows = (await File.ReadAllLinesAsync(file, Token)).Select(l => l.TrimStart('\uFEFF').Split(',')).ToList();
        int Column(string name) => Array.IndexOf(rows[0], name);

        var mine = rows.Where(r => r.Length == rows[0].Length && r[Column("parameter")] == key && r[Column("strip")] == Newest).ToList();
        Assert.Equal(
            EveryKind.Expected(Get(key)).Select(e => (e.Channel?.Word() ?? "", e.Zone.ToString().ToLowerInvariant(), Get(key).Unit)),
            mine.Select(r => (r[Column("channel")], r[Column("zone")], r[Column("unit")])));
        Assert.All(mine, r => Assert.NotEqual("", r[Column("deviation")]));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Workbook_has_its_deviations_and_the_limits_of_each_line(string key)
    {
        var parameter = Get(key);
        var file = Path.Combine(_other.Folder, "strips.xlsx");
        var (code, _, error) = await season.Program.RunAsync("export", "strips", "--force", "--out", file);
        Assert.True(code == 0, error);
        await using var zip = await ZipFile.OpenReadAsync(file, Token);
        var sheets = zip.Entries
            .Where(e => e.FullName.Contains("worksheets/", StringComparison.Ordinal) && e.Name.EndsWith(".xml", StringComparison.Ordinal))
            .Select(e => XDocument.Load(e.Open()))
            .Select(d => d.Descendants().Where(c => c.Name.LocalName == "c").ToDictionary(c => c.Attribute("r")!.Value, c => c.Value))
                .ToList();

        foreach (var (channel, isOwn, _) in EveryKind.Expected(parameter))
        {
            var name = channel is { } c ? $"{parameter.Name} {c.Word()}" : parameter.Name;
            Assert.Contains(
                sheets, s => s.Any(cell => cell.Value == name && !string.IsNullOrEmpty(s.GetValueOrDefault(cell.Key[..^1] + "2"))));
            Assert.Contains(sheets, s =>
                s.Any(cell => cell.Value == name + " action, upper" && s.GetValueOrDefault(cell.Key[..^1] + "2") == Number(Limit(isOwn))));
        }
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Json_lines_bring_it_into_another_store_as_it_was(string key)
    {
        var file = Path.Combine(_other.Folder, "strips.jsonl");
        Assert.Equal(0, (await season.Program.RunAsync("export", "strips", "--force", "--out", file)).Code);
        await EveryKind.WriteSheetAsync(_other.Folder);
        var (code, _, error) = await _other.RunAsync("import", "strips", file);
        Assert.True(code == 0, error);
        await using var store = await EmptyStore.OpenAsync(_other.Folder, TimeProvider.System, Token);

        var strips = await store.ListStripsAsync(Storage.Records.StripFilter.All, Token).ToListAsync(Token);
        Assert.Equal(season.Strips.Length, strips.Count);
        Assert.All(strips, s => AssertSame(Get(key), s.JudgedBy.Get(key)));
        var line = JsonDocument.Parse(File.ReadLines(file).Last()).RootElement;
        Assert.Equal(Get(key).Kind, Text(Rows(line.GetProperty("judgedBy").GetProperty("parameters"), key).Single(), "kind"));
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Life_is_told_of_every_line_with_a_sign_against_the_limit_of_that_line(string key)
    {
        var life = await season.Program.JsonAsync("life");

        var answers =
            life.GetProperty("answers").EnumerateArray().Where(a => Text(a, "key") == key).ToDictionary(a => Text(a, "channel") ?? "");
        var expected = Get(key).HasSign ? EveryKind.Expected(Get(key)).ToList() : [];
        Assert.Equal(expected.Select(e => e.Channel?.Word() ?? "").Order(), answers.Keys.Order());
        Assert.All(
            expected,
            e => Assert.Equal(Limit(e.IsOwn), answers[e.Channel?.Word() ?? ""].GetProperty("limit").GetProperty("upper").GetDouble()));
        Assert.All(answers.Values, a => Assert.Equal(season.Strips.Length, a.GetProperty("strips").GetInt32()));
    }

    [Fact]
    public async Task Causes_are_weighed_of_a_strip_with_every_kind()
    {
        var causes = await season.Program.JsonAsync("causes", Newest);

        Assert.True(causes.GetProperty("nothingProbability").GetDouble() < 0.5);
        Assert.NotEmpty(causes.GetProperty("groups").EnumerateArray());
    }

    [Theory]
    [MemberData(nameof(Keys))]
    public async Task Report_has_its_chart_its_numbers_and_the_source_of_its_limits(string key)
    {
        var parameter = Get(key);
        var file = Path.Combine(_other.Folder, "report.html");
        var (code, _, error) = await season.Program.RunAsync("report", "--force", "--out", file);
        Assert.True(code == 0, error);
        var html = await File.ReadAllTextAsync(file, Token);

        Assert.Contains($">{parameter.Name}", html, StringComparison.Ordinal);
        Assert.All(
            EveryKind.Expected(parameter).Where(e => e.IsOwn),
            e => Assert.Contains($"+0.50 action {e.Channel!.Value.Letter()}", html, StringComparison.Ordinal));
        Assert.All(parameter.LimitSources, s => Assert.Contains(s, html, StringComparison.Ordinal));
        Assert.DoesNotContain("does not have it", html, StringComparison.Ordinal);
    }

    private static Parameter Get(string key) => EveryKind.Sheet.Get(key);

    private static double Limit(bool isOwn) => isOwn ? EveryKind.Wide : EveryKind.Narrow / 2;

    private static string Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    private static string? Text(JsonElement row, string name) => row.TryGetProperty(name, out var value) ? value.GetString() : null;

    private static List<JsonElement> Rows(JsonElement list, string key) => [.. list.EnumerateArray().Where(p => Text(p, "key") == key)];

    /// <summary>Records compare arrays by identity, so what a parameter is made of is compared in words.</summary>
    private static void AssertSame(Parameter expected, Parameter actual)
    {
        static string Words(Parameter p) => string
            .Join('\n', [p.GetType().Name, p.Key, p.Name, p.StandsFor, p.MadeOf, string.Join(' ', p.Channels), .. p.AllLimits.Select(l =>
            $"{l.Channel} {l.Limits.Action} {l.Limits.Action?.Source} {l.Limits.Control} {l.Limits.Control?.Source}")]);
        Assert.Equal(Words(expected), Words(actual));
    }
}
