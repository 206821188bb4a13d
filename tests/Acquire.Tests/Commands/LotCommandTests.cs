namespace Acquire.Tests.Commands;

public sealed class LotCommandTests : IDisposable
{
    private readonly InMemory _program = new();

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Add_then_show_gives_back_what_was_entered()
    {
        var (code, _, error) = await _program.RunAsync(
            "lot", "add", "2417", "--process", "C-41", "--expires", "2027-06-30", "--factor", "LD +0.01 -0.02 0", "--storage", "cold");
        Assert.True(code == 0, error);
        var lot = (await _program.JsonAsync("lot", "show", "2417")).GetProperty("lot");
        Assert.Equal("c41", lot.GetProperty("process").GetString());
        Assert.Equal("2027-06-30", lot.GetProperty("expires").GetString());
        Assert.Equal(["dmin", "ld", "hd", "dmax", "yellow"], lot.GetProperty("patches").EnumerateArray().Select(p => p.GetString()));
        var green = lot.GetProperty("corrections").EnumerateArray().Single(c => c.GetProperty("channel").GetString() == "green");
        Assert.Equal(("ld", -0.02), (green.GetProperty("patch").GetString(), green.GetProperty("value").GetDouble()));
    }

    /// <summary>Aim = reference reading + signed correction factor (US Navy Photography (Advanced), US Army SS0514).</summary>
    [Fact]
    [Trait("Source", "US Navy Photography (Advanced); US Army SS0514")]
    public async Task Entered_reference_and_factor_make_the_aim()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41", "--factor", "ld +0.01 -0.02 0");
        var (code, _, error) = await _program.RunAsync(
            "lot", "reference", "2417",
            "--value", "dmin 0.26 0.62 0.80", "--value", "ld 0.45 0.86 1.04", "--value", "hd 1.26 1.74 2.00",
            "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72");
        Assert.True(code == 0, error);
        var aims = (await _program.JsonAsync("lot", "show", "2417")).GetProperty("aims").EnumerateArray()
            .Where(a => a.GetProperty("patch").GetString() == "ld")
            .Select(a => Math.Round(a.GetProperty("aim").GetDouble(), 9));
        Assert.Equal([0.46, 0.84, 1.04], aims);
    }

    [Fact]
    public async Task Entered_reference_with_patches_exchanged_is_asked_about_and_kept()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        string[] words =
        [
            "lot", "reference", "2417", "--value", "dmin 0.26 0.62 0.80", "--value", "ld 1.26 1.74 2.00", "--value", "hd 0.46 0.84 1.04",
            "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72",
        ];
        var (code, _, error) = await _program.RunAsync(words);
        Assert.Equal(0, code);
        Assert.Contains("These look like LD and HD exchanged: reorder?", error, StringComparison.Ordinal);
        Assert.Equal(
            "neutral_order", (await _program.JsonAsync(words)).GetProperty("question").GetProperty("kind").GetString());
    }

    /// <summary>What a strip of the process should read is known from another lot, roughly.</summary>
    [Fact]
    public async Task Entered_reference_with_a_value_far_off_is_asked_about_where_another_lot_is_known()
    {
        string[] rest = ["--value", "dmin 0.26 0.62 0.80", "--value", "hd 1.26 1.74 2.00", "--value", "dmax 2.12 2.58 2.92"];
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        await _program.RunAsync("lot", "add", "2418", "--process", "c41");
        string[] good = ["lot", "reference", "2417", .. rest, "--value", "ld 0.45 0.86 1.04", "--value", "yellow 0.37 0.88 2.72"];
        Assert.DoesNotContain("Worth a look", (await _program.RunAsync(good)).Error, StringComparison.Ordinal);

        var (_, _, error) = await _program.RunAsync(
            ["lot", "reference", "2418", .. rest, "--value", "ld 0.47 0.88 1.05", "--value", "yellow 0.37 0.88 1.72"]);
        Assert.Contains("yellow blue 1.72 goes with none of the other values: was 2.72 meant?", error, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Recheck_without_readings_says_what_to_do_first()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        Assert.Contains("no reference yet", (await _program.RunAsync("lot", "recheck", "2417")).Error, StringComparison.Ordinal);
        await _program.RunAsync(
            "lot", "reference", "2417",
            "--value", "dmin 0.26 0.62 0.80", "--value", "ld 0.45 0.86 1.04", "--value", "hd 1.26 1.74 2.00",
            "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72");
        var (code, _, error) = await _program.RunAsync("lot", "recheck", "2417");
        Assert.Equal(2, code);
        Assert.Contains("not read again yet", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lot_added_twice_is_refused_as_bad_input()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        var (code, _, error) = await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        Assert.Equal(2, code);
        Assert.Contains("2417", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Expired_lot_is_marked_in_the_list()
    {
        await _program.RunAsync("lot", "add", "77", "--process", "c41", "--expires", "2001-01-31");
        var (_, output, _) = await _program.RunAsync("lot", "list");
        Assert.Contains("2001-01-31 expired", output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ld 0.45 0.86")]
    [InlineData("ld 0,45 0,86 1,04")]
    [InlineData("sky 0.45 0.86 1.04")]
    [InlineData("ld 0.45 0.86 99")]
    [InlineData("")]
    public async Task Value_that_cannot_be_read_is_refused_and_stores_nothing(string value)
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        var (code, _, error) = await _program.RunAsync("lot", "reference", "2417", "--value", value);
        Assert.Equal(2, code);
        Assert.NotEmpty(error);
        Assert.Empty((await _program.JsonAsync("lot", "show", "2417")).GetProperty("aims").EnumerateArray());
    }

    [Fact]
    public async Task Reference_needs_a_port_or_values_and_not_both()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        Assert.Equal(2, (await _program.RunAsync("lot", "reference", "2417")).Code);
        Assert.Equal(2, (await _program.RunAsync("lot", "reference", "2417", "--value", "ld 0.4 0.8 1.0", "--port", "COM1")).Code);
    }
}
