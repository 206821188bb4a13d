using System.Text;
using Acquire.EndToEnd.Tests.Support;

namespace Acquire.EndToEnd.Tests.Trust;

/// <summary>An instrument is checked and tested over a pseudo-terminal, then reads a strip that names the check.</summary>
[Trait("speed", "slow")]
public sealed class TrustTests : IDisposable
{
    private readonly Darkroom _darkroom = new();

    public void Dispose() => _darkroom.Dispose();

    [Fact]
    public async Task Strip_read_after_a_check_names_it_and_one_before_is_marked()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await _darkroom.DoAsync(
            "plaque",
            "add",
            "bench",
            "--patch",
            "zero 0 0 0",
            "--patch",
            "mid 1.02 1.05 1.10 ± 0.01",
            "--patch",
            "high 2.95 3.01 3.05 ± 0.01");
        await _darkroom.DoAsync("check", "require", "mark");
        await ReadStripAsync(cable, 1);

        await using (var check =
            _darkroom.Start("check", "--plaque", "bench", "--port", cable.Near, "--profile", "labelled-line", "--reads", "2"))
        {
            await check.SaidAsync("next: zero, read 1 of 2");
            await SendAsync(
                cable,
                2,
                "R 0.00 G 0.00 B 0.00",
                "R 0.00 G 0.01 B 0.00",
                "R 1.02 G 1.05 B 1.10",
                "R 1.03 G 1.05 B 1.10",
                "R 2.95 G 3.01 B 3.05",
                "R 2.96 G 3.00 B 3.05");
            Assert.Equal(0, await check.ExitAsync());
            Assert.StartsWith("PASSED", check.Out, StringComparison.Ordinal);
        }

        await ReadStripAsync(cable, 3);

        var checkId = Assert.Single((await _darkroom.JsonAsync("check", "list")).EnumerateArray()).GetProperty("id").GetString();
        var strips = new List<System.Text.Json.JsonElement>();
        foreach (var strip in (await _darkroom.JsonAsync("strip", "list")).EnumerateArray())
        {
            strips.Add(await _darkroom.JsonAsync("strip", "show", strip.GetProperty("id").GetString()!));
        }

        var marked = Assert.Single(strips, s => s.GetProperty("checkId").GetString() is null);
        Assert.Contains("no calibration check", marked.GetProperty("checkLacking").GetString(), StringComparison.Ordinal);
        Assert.Equal(
            checkId, Assert.Single(strips, s => s.GetProperty("checkLacking").GetString() is null).GetProperty("checkId").GetString());
    }

    [Fact]
    public async Task Repeatability_test_with_still_reads_is_led_stored_and_listed()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await using var test = _darkroom.Start(
            "repeatability",
            "--port", cable.Near, "--profile", "labelled-line", "--patches", "ld,hd", "--reads", "4", "--still", "2", "--process", "c41");
        await test.SaidAsync("next: ld, read 1 of 4");
        await SendAsync(
            cable, 4, "R 0.45 G 0.86 B 1.04", "R 0.45 G 0.86 B 1.05", "R 0.46 G 0.87 B 1.05",
            "R 0.46 G 0.87 B 1.04", "R 1.26 G 1.74 B 2.00", "R 1.26 G 1.75 B 2.00", "R 1.25 G 1.74 B 2.01", "R 1.26 G 1.74 B 2.01");

        Assert.Equal(0, await test.ExitAsync());
        Assert.Contains("next: ld, read 2 of 4, patch 1 of 2, without moving it", test.Error, StringComparison.Ordinal);
        Assert.StartsWith("PASSED", test.Out, StringComparison.Ordinal);
        var stored = Assert.Single((await _darkroom.JsonAsync("repeatability", "list")).EnumerateArray());
        Assert.Equal(2, stored.GetProperty("readsPerPlacement").GetInt32());
        Assert.Equal(8, stored.GetProperty("result").GetProperty("channels").GetProperty("red").GetProperty("n").GetInt32());
    }

    [Fact]
    public async Task Reference_strip_read_again_is_held_against_the_first_reading()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await using var recheck =
            _darkroom.Start("lot", "recheck", Darkroom.Lot, "--port", cable.Near, "--profile", "labelled-line", "--reads", "1");
        await recheck.SaidAsync("next: D-min, read 1 of 1");
        await SendAsync(
            cable,
            5,
            "R 0.26 G 0.62 B 0.81",
            "R 0.46 G 0.86 B 1.04",
            "R 1.26 G 1.74 B 2.00",
            "R 2.12 G 2.58 B 2.92",
            "R 0.37 G 0.88 B 2.72");

        Assert.Equal(0, await recheck.ExitAsync());
        Assert.StartsWith("The instrument reads the reference strip as it did", recheck.Out, StringComparison.Ordinal);
        Assert.Equal(15, (await _darkroom.JsonAsync("lot", "recheck", Darkroom.Lot)).GetProperty("series").GetArrayLength());
    }

    [Theory]
    [InlineData("next: zero", "check", "--plaque", "bench")]
    [InlineData("next: patch", "repeatability")]
    [InlineData("next: D-min", "lot", "recheck", Darkroom.Lot)]
    public async Task Cable_pulled_is_waited_for_no_longer_than_asked(string prompt, params string[] command)
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.AddLotAsync();
        await _darkroom.DoAsync("plaque", "add", "bench", "--patch", "zero 0 0 0", "--patch", "high 2.95 3.01 3.05");
        await using var reading = _darkroom.Start([.. command, "--port", cable.Near, "--profile", "labelled-line", "--give-up", "0"]);
        await reading.SaidAsync(prompt);
        await cable.PullAsync();

        Assert.Equal(3, await reading.ExitAsync());
    }

    [Fact]
    public async Task Aims_shown_rest_on_the_repeatability_test_of_the_instrument_that_read_the_reference()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        await _darkroom.DoAsync("lot", "add", Darkroom.Lot, "--process", "c41");
        await using (var reference =
            _darkroom.Start("lot", "reference", Darkroom.Lot, "--port", cable.Near, "--profile", "labelled-line", "--reads", "1"))
        {
            await reference.SaidAsync("next: D-min, read 1 of 1");
            await SendAsync(
                cable,
                6,
                "R 0.26 G 0.62 B 0.80",
                "R 0.46 G 0.84 B 1.04",
                "R 1.26 G 1.74 B 2.00",
                "R 2.12 G 2.58 B 2.92",
                "R 0.37 G 0.88 B 2.72");
            Assert.Equal(0, await reference.ExitAsync());
        }

        var before = await _darkroom.JsonAsync("lot", "show", Darkroom.Lot);
        Assert.DoesNotContain("repeatability test", await _darkroom.DoAsync("lot", "show", Darkroom.Lot), StringComparison.Ordinal);
        var file = Path.Combine(_darkroom.Folder, "test.csv");
        await File.WriteAllLinesAsync(
            file,
            ["patch,read,red,green,blue", "ld,1,0.45,0.86,1.04", "ld,2,0.47,0.88,1.06", "ld,3,0.45,0.86,1.04"],
            TestContext.Current.CancellationToken);
        await _darkroom.DoAsync("repeatability", "--from", file, "--profile", "labelled-line");
        await ReadStripAsync(cable, 7);

        var shown = await _darkroom.JsonAsync("lot", "show", Darkroom.Lot);
        // Nothing known is 0.010² (1 + 0.45² D²) at 5 degrees of freedom; the test's 2 take a fifth of its weight.
        var assumed = 1e-4 * (1 + (0.2025 * 0.26 * 0.26));
        Assert.Equal(Math.Sqrt(assumed), FirstUncertainty(before), 1e-9);
        Assert.Equal(Math.Sqrt(((2 * 4e-4 / 3) + (4 * assumed)) / 6), FirstUncertainty(shown), 1e-9);
        Assert.Equal(
            (await _darkroom.JsonAsync("repeatability", "list"))[0].GetProperty("id").GetString(),
            shown.GetProperty("repeatabilityId").GetString());
        var id = (await _darkroom.JsonAsync("strip", "list"))[0].GetProperty("id").GetString()!;
        Assert.Equal(
            FirstUncertainty(shown),
            (await _darkroom.JsonAsync("strip", "show", id, "--reads")).GetProperty("patches")[0].GetProperty("aims")[0].GetProperty(
                "uncertainty").GetDouble());
        Assert.Contains(
            "u(aim) counts the repeatability test in force of labelled-line",
            await _darkroom.DoAsync("lot", "show", Darkroom.Lot), StringComparison.Ordinal);

        static double FirstUncertainty(System.Text.Json.JsonElement lot) =>
            lot.GetProperty("aims")[0].GetProperty("uncertainty").GetDouble();
    }

    [Fact]
    public async Task Black_and_white_instrument_is_tested_in_visual_alone()
    {
        await using var cable = await SerialCable.LayAsync(_darkroom.Folder);
        var profile = Path.Combine(_darkroom.Folder, "visual.json");
        await File.WriteAllTextAsync(
            profile,
            """
            { "name": "staff-visual", "title": "Black and white", "lines": [ { "template": "V {visual}", "means": "reading" } ],
              "samples": [ { "lines": ["V 0.70"], "gives": { "visual": 0.70 } } ] }
            """,
            TestContext.Current.CancellationToken);
        await using var test = _darkroom.Start(
            "repeatability", "--port",
            cable.Near, "--profile", profile, "--patches", "ld", "--reads", "3", "--html", Path.Combine(_darkroom.Folder, "v.html"));
        await test.SaidAsync("next: ld, read 1 of 3");
        await SendAsync(cable, 8, "V 0.70", "V 0.71", "V 0.70");

        Assert.Equal(0, await test.ExitAsync());
        Assert.Contains("V mean", test.Out, StringComparison.Ordinal);
        var page = await File.ReadAllTextAsync(Path.Combine(_darkroom.Folder, "v.html"), TestContext.Current.CancellationToken);
        Assert.Matches("<t[dh][^>]*>visual</t[dh]>", page);
        var channels = (await _darkroom.JsonAsync("repeatability", "list"))[0].GetProperty("result").GetProperty("channels");
        Assert.Equal("visual", Assert.Single(channels.EnumerateObject()).Name);
    }

    private static Task SendAsync(SerialCable cable, int seed, params string[] lines) =>
        cable.SendAsync(Encoding.ASCII.GetBytes(string.Concat(lines.Select(l => l + "\r\n"))), seed);

    private async Task ReadStripAsync(SerialCable cable, int seed)
    {
        await using var read =
            _darkroom.Start("read", "--port", cable.Near, "--profile", "labelled-line", "--lot", Darkroom.Lot, "--reads", "1");
        await read.SaidAsync("next: D-min, read 1 of 1");
        await SendAsync(
            cable,
            seed,
            "R 0.26 G 0.62 B 0.80",
            "R 0.46 G 0.84 B 1.04",
            "R 1.26 G 1.74 B 2.00",
            "R 2.12 G 2.58 B 2.92",
            "R 0.37 G 0.88 B 2.72");
        Assert.Equal(0, await read.ExitAsync());
    }
}
