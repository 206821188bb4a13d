using System.Text.Json;

namespace Acquire.Tests.StripWork;

/// <summary>Strip work as the trade does it, through the command line, with an instrument behind a real socket.</summary>
[Trait("speed", "slow")]
public sealed class StripWorkTests : IAsyncDisposable
{
    private readonly InMemory _program = new();
    private readonly TcpInstrument _instrument = new();

    public async ValueTask DisposeAsync()
    {
        await _instrument.DisposeAsync();
        _program.Dispose();
    }

    /// <summary>"Confirm with a second strip at once" (US Navy Photography (Advanced); US Army SS0514).</summary>
    [Fact]
    [Trait("Source", "US Navy Photography (Advanced); US Army SS0514")]
    public async Task Second_strip_that_is_in_says_fluke_and_takes_lot_and_line_from_the_first()
    {
        await AddLotAsync("2417");
        var first = await ReadAsync(["--lot", "2417", "--line", "dip tank", "--bottle", "D7"], ("ld", 0.10m, 0, 0));
        _instrument.Lay();
        var (code, output, error) = await _program.RunAsync(["read", .. _instrument.Options, "--confirms", Id(first)]);

        Assert.True(code == 0, error);
        Assert.Contains("The second strip is in: the first was a fluke (LD red +0.100, then 0.000", output, StringComparison.Ordinal);
        Assert.Contains("line dip tank, bottle D7", output, StringComparison.Ordinal);
        var second = await ReadAsync(["--confirms", Id(first)], ("ld", 0.09m, 0, 0));
        Assert.Equal("confirmed", second.GetProperty("secondStrip").GetProperty("verdict").GetString());
        Assert.Equal(Id(first), second.GetProperty("confirms").GetString());
        Assert.Contains("CONFIRMS", (await _program.RunAsync("strip", "show", Id(second))).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Strip_read_again_is_judged_by_the_same_aims_and_says_what_came_back()
    {
        await AddLotAsync("2417");
        var first = await ReadAsync(["--lot", "2417"], ("dmax", 0, 0, 0.14m));
        await AddReferenceAsync("2417", "--reason", "lamp replaced", "--value", "dmin 0.30 0.62 0.80");
        _instrument.Lay(("dmax", 0, 0, 0.02m));
        var (code, output, error) = await _program.RunAsync(
            ["read", .. _instrument.Options, "--reread", Id(first), "--after", "re-bleach", "--handling", "second bleach 6 min"]);

        Assert.True(code == 0, error);
        Assert.Contains("read again after re-bleach", output, StringComparison.Ordinal);
        Assert.Contains("D-max B − yellow B came back by 0.120 ± 0.03", output, StringComparison.Ordinal);
        Assert.Contains("That speaks for the bleach", output, StringComparison.Ordinal);
        var again = (await _program.JsonAsync("strip", "list"))[1].GetProperty("id").GetString()!;
        var shown = await _program.JsonAsync("strip", "show", again);
        Assert.Equal(first.GetProperty("referenceId").GetString(), shown.GetProperty("referenceId").GetString());
        Assert.Equal("re-bleach", shown.GetProperty("treatment").GetString());
        Assert.Equal("second bleach 6 min", shown.GetProperty("handling").GetString());
        Assert.Equal(0.26, shown.GetProperty("patches")[0].GetProperty("aims")[0].GetProperty("aim").GetDouble(), 1e-12);
    }

    [Theory]
    [InlineData("--reread ffff", "go together")]
    [InlineData("--after re-bleach --lot 2417", "go together")]
    [InlineData("--lot 2417 --confirms 00000000", "no strip 00000000")]
    [InlineData("--reread 00000000 --after polish", "no strip 00000000")]
    [InlineData("--lot 2417 --baseline", "Leave --baseline out")]
    public async Task Options_that_make_no_sense_are_refused_before_anything_is_read(string options, string said)
    {
        await AddLotAsync("2417");
        var (code, _, error) =
            await _program.RunAsync(["read", .. _instrument.Options, .. options.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);

        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    /// <summary>The only lot is meant where none is named; of two that no strip was read of yet, neither is.</summary>
    [Fact]
    public async Task Strip_of_one_of_two_lots_needs_its_lot()
    {
        await AddLotAsync("2417");
        await AddLotAsync("2511");

        var (code, _, error) = await _program.RunAsync(["read", .. _instrument.Options]);

        Assert.Equal(2, code);
        Assert.Contains("--lot CODE", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Amended_strip_keeps_its_aims_and_history_says_who_when_and_why()
    {
        await AddLotAsync("2417");
        var strip = Id(await ReadAsync(["--lot", "2417", "--line", "dip tank", "--bottle", "D7"]));
        await AddReferenceAsync("2417", "--reason", "lamp replaced", "--value", "ld 0.50 0.90 1.10");
        var (code, _, error) = await _program.RunAsync(
            "strip", "amend",
            strip, "--reason", "wrong bottle named", "--bottle", "D8", "--line", "", "--exclude", "HD 1: scratch", "--by", "staff");
        Assert.True(code == 0, error);

        var shown = await _program.JsonAsync("strip", "show", strip);
        Assert.Equal(("D8", 2), (shown.GetProperty("bottle").GetString(), shown.GetProperty("revision").GetInt32()));
        Assert.Equal(JsonValueKind.Null, shown.GetProperty("line").ValueKind);
        Assert.Equal(0.45, shown.GetProperty("patches")[1].GetProperty("aims")[0].GetProperty("aim").GetDouble(), 1e-12);
        Assert.Empty(shown.GetProperty("patches")[2].GetProperty("means").EnumerateArray());
        var (_, history, _) = await _program.RunAsync("strip", "history", strip);
        Assert.Contains("by staff: wrong bottle named", history, StringComparison.Ordinal);
        Assert.Contains("bottle: D7 → D8", history, StringComparison.Ordinal);
        Assert.Contains("line: dip tank → none", history, StringComparison.Ordinal);
        Assert.Contains("hd read 1: counts → left out: scratch", history, StringComparison.Ordinal);
        Assert.Contains("mean hd red: 1.2600 → none", history, StringComparison.Ordinal);
        Assert.Equal("D7", (await _program.JsonAsync("strip", "show", strip, "--revision", "1")).GetProperty("bottle").GetString());
        Assert.Equal(2, (await _program.RunAsync("strip", "show", strip, "--revision", "3")).Code);
    }

    [Fact]
    public async Task Strip_amended_to_another_lot_is_judged_by_what_that_lot_had_then()
    {
        await AddLotAsync("2417");
        await AddLotAsync("2511", "--value", "ld 0.55 0.96 1.14");
        var strip = Id(await ReadAsync(["--lot", "2417"], ("ld", 0.10m, 0.10m, 0.10m)));
        await AddReferenceAsync("2511", "--reason", "later", "--value", "ld 0.99 0.99 0.99");
        await AmendAsync(strip, "--lot", "2511", "--reason", "read the code on the can");

        var shown = await _program.JsonAsync("strip", "show", strip);
        Assert.Equal("2511", shown.GetProperty("lot").GetString());
        Assert.Equal("inside", shown.GetProperty("zone").GetString());
        Assert.Equal(0.55, shown.GetProperty("patches")[1].GetProperty("aims")[0].GetProperty("aim").GetDouble(), 1e-12);
    }

    [Theory]
    [InlineData("would change, so there is no new revision", "--bottle", "D7")]
    [InlineData("no read 9", "--exclude", "hd 9: scratch")]
    [InlineData("expected a patch", "--exclude", "hd 1")]
    [InlineData("no patch 'sky'", "--include", "sky")]
    [InlineData("no lot 77", "--lot", "77")]
    public async Task Amendment_that_cannot_be_is_refused_and_makes_no_revision(string said, string option, string value)
    {
        await AddLotAsync("2417");
        var strip = Id(await ReadAsync(["--lot", "2417", "--bottle", "D7"]));
        var (code, _, error) = await _program.RunAsync("strip", "amend", strip, "--reason", "why", option, value);

        Assert.Equal(2, code);
        Assert.Contains(said, error, StringComparison.OrdinalIgnoreCase);
        Assert.Single((await _program.JsonAsync("strip", "history", strip)).EnumerateArray());
    }

    /// <summary>An old and a new strip together at least three separate times; the new aims are not forced to equal the old ones.</summary>
    [Fact]
    [Trait("Source", "US Navy Photography (Advanced); US Army SS0514")]
    public async Task Crossover_needs_three_pairs_changes_nothing_by_itself_and_leaves_old_strips_alone()
    {
        await AddLotAsync("2417");
        await AddLotAsync("2511", "--value", "ld 0.40 0.86 1.04");
        for (var i = 0; i < 2; i++)
        {
            await PairAsync(0.01m * i);
        }

        Assert.Contains("too few", (await _program.RunAsync("lot", "crossover", "2417", "2511")).Out, StringComparison.Ordinal);
        var (refused, _, why) = await _program.RunAsync("lot", "crossover", "2417", "2511", "--accept", "--reason", "in haste");
        Assert.Equal(2, refused);
        Assert.Contains("2 of 3 pairs", why, StringComparison.Ordinal);

        var last = await PairAsync(0.02m);
        var proposal = await _program.JsonAsync("lot", "crossover", "2417", "2511");
        var ldRed = proposal.GetProperty("rows").EnumerateArray().First(r => r.GetProperty("patch").GetString() == "ld");
        Assert.Equal(0.05, ldRed.GetProperty("difference").GetDouble(), 1e-9);
        Assert.Equal(0.45, ldRed.GetProperty("adjustedAim").GetDouble(), 1e-9);
        Assert.Equal(0.40, await AimAsync("2511"), 1e-9);

        var (code, output, error) =
            await _program.RunAsync("lot", "crossover", "2417", "2511", "--accept", "--reason", "three pairs on three evenings");
        Assert.True(code == 0, error);
        Assert.Contains("ACCEPTED", output, StringComparison.Ordinal);
        Assert.Equal(0.45, await AimAsync("2511"), 1e-9);
        var (again, _, already) = await _program.RunAsync("lot", "crossover", "2417", "2511", "--accept", "--reason", "once more");
        Assert.Equal(2, again);
        Assert.Contains("accepted already, by staff", already, StringComparison.Ordinal);
        var standing = (await _program.RunAsync("lot", "crossover", "2417", "2511")).Out.ReplaceLineEndings(" ");
        Assert.Contains("In force since", standing, StringComparison.Ordinal);
        Assert.Contains("accepted by staff", standing, StringComparison.Ordinal);
        Assert.Contains("nothing more to accept", standing, StringComparison.Ordinal);
        Assert.DoesNotContain("To accept", standing, StringComparison.Ordinal);
        Assert.Equal(0.40, LdRedAim(await _program.JsonAsync("strip", "show", last)), 1e-9);
        var after = await ReadAsync(["--lot", "2511"]);
        Assert.Equal(0.45, LdRedAim(after), 1e-9);
        Assert.Equal("inside", after.GetProperty("zone").GetString());
        await PairAsync(0.03m);
        var withOneMore = await _program.RunAsync("lot", "crossover", "2417", "2511");
        Assert.Contains("To accept this one instead", withOneMore.Out.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.Equal(
            3, (await _program.JsonAsync("lot", "crossover", "2417", "2511")).GetProperty("inForce").GetProperty("pairs").GetArrayLength());

        await AddReferenceAsync("2511", "--reason", "densitometer repaired", "--value", "ld 0.43 0.86 1.04");
        Assert.Equal(0.43, await AimAsync("2511"), 1e-9);
    }

    [Fact]
    public async Task Crossover_of_strips_named_by_hand_that_agree_has_nothing_to_accept()
    {
        await AddLotAsync("2417");
        await AddLotAsync("2511");
        var pairs = new List<string>();
        for (var i = 0; i < 3; i++)
        {
            pairs.Add($"{Id(await ReadAsync(["--lot", "2417"], ("ld", 0.01m, 0, 0)))}:{Id(await ReadAsync(["--lot", "2511"]))}");
        }

        var (code, _, error) =
            await _program.RunAsync("lot", "crossover", "2417", "2511", "--pairs", string.Join(',', pairs), "--accept", "--reason", "x");
        Assert.Equal(2, code);
        Assert.Contains("nothing to adjust", error, StringComparison.Ordinal);
        var swapped = string.Join(':', pairs[0].Split(':').Reverse());
        Assert.Contains(
            "OLD:NEW", (await _program.RunAsync("lot", "crossover", "2417", "2511", "--pairs", swapped)).Error, StringComparison.Ordinal);
    }

    /// <summary>
    /// Five strips of five days where the maker gives no reference (a film maker's published radiographic quality-control procedure).
    /// </summary>
    [Fact]
    [Trait("Source", "a film maker's published radiographic quality-control procedure")]
    public async Task Baseline_takes_five_strips_and_later_strips_are_judged_by_it()
    {
        await _program.RunAsync("lot", "add", "own", "--process", "c41");
        for (var i = 0; i < 5; i++)
        {
            var (refused, _, why) = await _program.RunAsync("lot", "baseline", "own");
            Assert.Equal(2, refused);
            Assert.Contains($"has {i}", why, StringComparison.Ordinal);
            var strip = await ReadAsync(["--lot", "own", "--baseline"], ("ld", 0.01m * i, 0, 0));
            Assert.Equal(JsonValueKind.Null, strip.GetProperty("zone").ValueKind);
        }

        var (code, output, error) = await _program.RunAsync("lot", "baseline", "own");
        Assert.True(code == 0, error);
        Assert.Contains("average of 5 own strips", output, StringComparison.Ordinal);
        Assert.Contains("one day", error, StringComparison.Ordinal);
        Assert.Equal(0.47, await AimAsync("own"), 1e-9);
        var later = await ReadAsync(["--lot", "own"], ("ld", 0.02m, 0, 0));
        Assert.Equal("inside", later.GetProperty("zone").GetString());
        Assert.Equal(5, (await _program.JsonAsync("lot", "show", "own")).GetProperty("lot").GetProperty("baselineStrips").GetArrayLength());
        Assert.Contains("Read without aims", (await _program.RunAsync(
            "strip", "show", (await _program.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!)).Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lot_about_to_expire_asks_for_the_crossover()
    {
        var soon = DateOnly.FromDateTime(TimeProvider.System.GetLocalNow().DateTime).AddDays(5);
        await AddLotAsync("2417", "--expires", soon.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture));
        _instrument.Lay();
        var (_, _, error) = await _program.RunAsync(["read", .. _instrument.Options, "--lot", "2417"]);

        Assert.Contains("in 5 days. Run the crossover", error, StringComparison.Ordinal);
    }

    private static string Id(JsonElement strip) => strip.GetProperty("id").GetString()!;

    private static double LdRedAim(JsonElement strip) =>
        strip.GetProperty("patches")[1].GetProperty("aims")[0].GetProperty("aim").GetDouble();

    private async Task<string> PairAsync(decimal moved)
    {
        var old = Id(await ReadAsync(["--lot", "2417"], ("ld", moved, moved, moved)));
        return Id(await ReadAsync(["--lot", "2511", "--pair", old], ("ld", moved, moved, moved)));
    }

    private async Task<double> AimAsync(string lot) => (await _program.JsonAsync("lot", "show", lot)).GetProperty("aims").EnumerateArray()
        .First(a => a.GetProperty("patch").GetString() == "ld").GetProperty("aim").GetDouble();

    private async Task<JsonElement> ReadAsync(string[] options, params (string Key, decimal R, decimal G, decimal B)[] moves)
    {
        _instrument.Lay(moves);
        var (code, output, error) = await _program.RunAsync(["read", .. _instrument.Options, .. options, "--json"]);
        Assert.True(code is 0 or 1, error);
        return JsonDocument.Parse(output).RootElement;
    }

    private async Task AmendAsync(string strip, params string[] options)
    {
        var (code, _, error) = await _program.RunAsync(["strip", "amend", strip, .. options]);
        Assert.True(code == 0, error);
    }

    /// <summary>A lot whose entered reference has some patches otherwise.</summary>
    private async Task AddLotAsync(string code, params string[] options)
    {
        string[] of = options is ["--expires", ..] ? options : [];
        Assert.Equal(0, (await _program.RunAsync(["lot", "add", code, "--process", "c41", .. of])).Code);
        await AddReferenceAsync(code, options is ["--value", ..] ? options : []);
    }

    private async Task AddReferenceAsync(string code, params string[] options)
    {
        var own =
            options.Index().Where(o => o.Index > 0 && options[o.Index - 1] == "--value").Select(o => o.Item.Split(' ')[0]).ToHashSet();
        var values = TcpInstrument.ReferenceValues.Chunk(2).Where(v => !own.Contains(v[1].Split(' ')[0])).SelectMany(v => v);
        var (done, _, error) = await _program.RunAsync(["lot", "reference", code, .. values, .. options]);
        Assert.True(done == 0, error);
    }
}
