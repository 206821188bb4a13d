using System.Text;

namespace Acquire.Tests.Commands;

public sealed class RepeatabilityCommandTests : IDisposable
{
    private const string Glucose =
        """
        1 41.03 78.28 132.66 193.71 292.78
        1 41.45 78.18 133.83 193.59 294.09
        1 41.37 78.49 133.10 193.65 292.89
        2 41.17 77.78 132.92 190.88 292.27
        2 42.00 80.38 136.90 200.14 309.40
        2 41.15 79.54 136.40 194.30 295.08
        3 41.01 79.18 132.61 192.71 295.53
        3 40.68 79.72 135.80 193.28 290.14
        3 42.66 80.81 135.36 190.28 292.34
        4 39.37 84.08 138.50 195.85 295.19
        4 42.37 78.60 148.30 196.36 295.44
        4 42.63 81.92 135.69 199.43 296.83
        5 41.88 78.16 131.90 192.59 293.93
        5 41.19 79.58 134.14 191.44 292.48
        5 41.32 78.33 133.76 195.12 294.28
        6 43.28 78.66 137.21 195.34 297.74
        6 40.50 79.27 135.14 198.26 296.80
        6 42.28 81.75 137.50 198.13 290.33
        7 41.08 79.76 130.97 194.66 287.29
        7 41.27 81.45 131.59 191.99 293.76
        7 39.02 77.35 134.92 187.13 289.36
        8 43.36 80.44 135.46 197.56 298.46
        8 42.65 80.80 135.14 195.99 295.28
        8 41.72 79.80 133.63 200.82 296.12
        """;

    private const string Gears =
        """
        1.006 0.996 0.998 1.000 0.992 0.993 1.002 0.999 0.994 1.000
        0.998 1.006 1.000 1.002 0.997 0.998 0.996 1.000 1.006 0.988
        0.991 0.987 0.997 0.999 0.995 0.994 1.000 0.999 0.996 0.996
        1.005 1.002 0.994 1.000 0.995 0.994 0.998 0.996 1.002 0.996
        0.998 0.998 0.982 0.990 1.002 0.984 0.996 0.993 0.980 0.996
        1.009 1.013 1.009 0.997 0.988 1.002 0.995 0.998 0.981 0.996
        0.990 1.004 0.996 1.001 0.998 1.000 1.018 1.010 0.996 1.002
        0.998 1.000 1.006 1.000 1.002 0.996 0.998 0.996 1.002 1.006
        1.002 0.998 0.996 0.995 0.996 1.004 1.004 0.998 0.999 0.991
        0.991 0.995 0.984 0.994 0.997 0.997 0.991 0.998 1.004 0.997
        """;

    private readonly InMemory _program = new() { BeginsWithStore = false };

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();


    /// <summary>
    /// Eight laboratories as patches, three materials at a time as channels: the pooled s is the s_r of ASTM E691, r = 2.8 s_r.
    /// </summary>
    [Theory]
    [Trait("Source", "ASTM E691-99 table 1 (NIST Dataplot GLUCOSE2.DAT as shipped), s_r and r of each material")]
    [InlineData(1, 1.0632, 1.4949, 2.7483, 2.98, 4.19, 7.70)]
    [InlineData(3, 2.7483, 2.6251, 3.9350, 7.70, 7.35, 11.02)]
    public async Task From_file_gives_the_published_repeatability(
        int column, double red, double green, double blue, double r, double g, double b)
    {
        var rows = Glucose.Split('\n').Select(l => l.Trim().Split(' ')).Select(
            (c, i) => $"lab{c[0]},{(i % 3) + 1},{string.Join(',', c[column..(column + 3)])}");
        var (code, json) = await TestAsync(rows);

        Assert.Equal(1, code);
        Assert.Equal([red, green, blue], Each(json, "s", 4));
        Assert.Equal([r, g, b], Each(json, "repeatabilityLimit", 2));
        Assert.Equal([24, 24, 24], Each(json, "n", 0));
        Assert.Equal([16, 16, 16], Each(json, "degreesOfFreedom", 0));
        Assert.Equal(8, json.GetProperty("patches").EnumerateObject().Count());
    }

    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 1.3.5.8, GEAR.DAT: s 0.006279, 95 % interval 0.00551 … 0.00729")]
    public async Task From_file_gives_the_published_interval()
    {
        var values = Gears.Split((char[])[' ', '\n', '\r'], StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(100, values.Length);
        var (code, json) = await TestAsync(values.Select((v, i) => $"gear,{i + 1},{v},{v},{v}"), "--specification", "0.006");

        Assert.Equal(0, code);
        var gear = json.GetProperty("patches").GetProperty("gear").GetProperty("channels").GetProperty("green");
        Assert.Equal(0.006279, gear.GetProperty("s").GetDouble(), 6);
        Assert.Equal(0.00551, gear.GetProperty("sLow").GetDouble(), 5);
        Assert.Equal(0.00729, gear.GetProperty("sHigh").GetDouble(), 5);
        Assert.Equal([0.00551, 0.00551, 0.00551], Each(json, "sLow", 5));
        Assert.Equal([99, 99, 99], Each(json, "degreesOfFreedom", 0));
    }

    /// <summary>A test that mixed two patches up would spoil every uncertainty that rests on it.</summary>
    [Fact]
    public async Task Reads_that_cannot_be_of_one_patch_are_not_kept()
    {
        var file = await FileAsync("patch,read,red,green,blue", ["ld,1,0.45,0.86,1.04", "ld,2,1.26,1.74,2.00", "ld,3,0.46,0.86,1.05"]);
        var (code, _, error) = await _program.RunAsync("repeatability", "--from", file, "--profile", "labelled-line");

        Assert.Equal(2, code);
        Assert.Contains("they are of different patches", error, StringComparison.Ordinal);
        Assert.Empty((await _program.JsonAsync("repeatability", "list")).EnumerateArray());
    }

    [Fact]
    public async Task Three_identical_repeats_pass_and_the_display_step_speaks()
    {
        var (code, json) = await TestAsync(["ld,1,0.45,0.86,1.04", "ld,2,0.45,0.86,1.04", "ld,3,0.45,0.86,1.04"]);

        Assert.Equal(0, code);
        Assert.Equal([0, 0, 0], Each(json, "s", 9));
        Assert.Equal([0.00289, 0.00289, 0.00289], Each(json, "sStated", 5));
        Assert.NotEmpty(json.GetProperty("notes").EnumerateArray());
    }

    [Fact]
    public async Task Placements_named_by_letters_give_both_components()
    {
        var (code, json) = await TestAsync(
            ["ld,1,0.45,0.86,1.04,a", "ld,2,0.45,0.86,1.05,a", "ld,1,0.47,0.88,1.06,b", "ld,2,0.47,0.87,1.06,b"],
            heading: "patch,read,red,green,blue,placement");

        Assert.Equal(0, code);
        Assert.All(json.GetProperty("channels").EnumerateObject(), c => Assert.True(c.Value.GetProperty("sPlacement").GetDouble() > 0.01));
    }

    [Fact]
    public async Task Report_for_people_says_verdict_interval_and_limits()
    {
        var file = await FileAsync("patch;read;red;green;blue", ["ld;1;0,45;0,86;1,04", "ld;2;0,46;0,86;1,05", "ld;3;0,45;0,87;1,04"]);
        var (code, output, error) = await _program.RunAsync("repeatability", "--from", file, "--process", "c41");

        Assert.True(code == 0, error);
        Assert.StartsWith("PASSED", output, StringComparison.Ordinal);
        Assert.Contains("95 % interval", output, StringComparison.Ordinal);
        Assert.Contains("reads per patch", output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task From_file_alone_needs_and_makes_no_data_folder()
    {
        var file = await FileAsync("patch,read,red,green,blue", ["ld,1,0.45,0.86,1.04", "ld,2,0.46,0.86,1.05"]);
        Assert.Equal(0, (await _program.RunAsync("repeatability", "--from", file, "--json")).Code);

        Assert.Equal([file], Directory.EnumerateFileSystemEntries(_program.Folder));
    }

    [Fact]
    public async Task From_file_with_profile_is_kept_compared_and_listed()
    {
        var calm = await FileAsync("patch,read,visual", ["ld,1,0.70", "ld,2,0.71", "ld,3,0.70", "ld,4,0.71", "ld,5,0.70"]);
        var (code, output, error) =
            await _program.RunAsync("repeatability", "--from", calm, "--profile", "vrgb-columns", "--by", "evening class");
        Assert.True(code == 0, error);
        Assert.Contains("Kept as a repeatability test of vrgb-columns", error, StringComparison.Ordinal);
        Assert.DoesNotContain("in the test before", output, StringComparison.Ordinal);

        var restless = await FileAsync("patch,read,visual", ["ld,1,0.70", "ld,2,0.95", "ld,3,0.60", "ld,4,0.99", "ld,5,0.70"]);
        (code, output, error) = await _program.RunAsync(
            "repeatability", "--from", restless, "--profile", "vrgb-columns", "--html", Path.Combine(_program.Folder, "r.html"));
        Assert.True(code == 1, error);
        const string Changed = "visual: s was 0.0055 in the test before, now 0.1717: more than chance explains";
        Assert.Contains(Changed, output, StringComparison.Ordinal);
        Assert.Contains(Changed, await File.ReadAllTextAsync(Path.Combine(_program.Folder, "r.html"), Token), StringComparison.Ordinal);

        var tests = (await _program.JsonAsync("repeatability", "list")).EnumerateArray().ToList();
        Assert.Equal([true, false], tests.Select(t => t.GetProperty("passed").GetBoolean()));
        Assert.Equal(
            ("evening class", "file:reads.csv"),
            (tests[0].GetProperty("readBy").GetString(), tests[0].GetProperty("instrument").GetProperty("port").GetString()));
        Assert.Equal(System.Text.Json.JsonValueKind.Null, tests[0].GetProperty("sessionId").ValueKind);
        Assert.Equal(5, tests[0].GetProperty("result").GetProperty("channels").GetProperty("visual").GetProperty("n").GetInt32());
        var list = (await _program.RunAsync("repeatability", "list")).Out;
        Assert.Contains("s V", list, StringComparison.Ordinal);
        Assert.DoesNotContain("s R", list, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("ld,1,0.45,41.03,1.04", "line 2: green is 41.03; expected a density between", "labelled-line")]
    [InlineData("ld,1,0.45,0.86,1.04", "no-such-profile", "no-such-profile")]
    public async Task From_file_that_cannot_be_kept_is_refused_and_nothing_is(string row, string said, string profile)
    {
        var file = await FileAsync("patch,read,red,green,blue", [row, "ld,2,0.45,0.86,1.04"]);
        var (code, output, error) = await _program.RunAsync("repeatability", "--from", file, "--profile", profile);

        Assert.Equal((2, ""), (code, output));
        Assert.Contains(said, error, StringComparison.Ordinal);
        Assert.Empty((await _program.JsonAsync("repeatability", "list")).EnumerateArray());
    }

    [Theory]
    [InlineData("patch,read,red,green,blue", "ld,1,0.45,0.86,1.04", "twice")]
    [InlineData("patch,read,red,green,blue", "", "no reads")]
    [InlineData("patch,read,red,green", "ld,1,0.45,0.86", "line 1")]
    [InlineData("patch,read,red,green,blue", "ld,1,0.45,0.86,?", "line 2: blue is '?'")]
    [InlineData("patch,read,red,green,blue", "ld,1,0.45", "line 2: green is empty")]
    [InlineData("patch,read,red,green,blue", "ld,1,0,45,0,86,1,04", "line 2: the row has 8 cells, the heading 5")]
    [InlineData("patch;read;red;green;blue", "ld;1;0,45;0,86;1.0,4", "line 2: blue is '1.0,4'")]
    [InlineData("patch,number,red,green,blue", "ld,1,0.45,0.86,1.04", "line 1: the heading lacks read")]
    [InlineData("patch,read,red,green,blue", "ld,first,0.45,0.86,1.04", "line 2: read is 'first'")]
    public async Task Bad_input_is_refused_with_clear_words(string heading, string row, string said)
    {
        var (code, output, error) = await _program.RunAsync("repeatability", "--from", await FileAsync(heading, [row]));

        Assert.Equal(2, code);
        Assert.Empty(output);
        Assert.Contains(said, error, StringComparison.Ordinal);
    }

    private static IEnumerable<double> Each(System.Text.Json.JsonElement json, string property, int digits) =>
        json.GetProperty("channels").EnumerateObject().Select(c => Math.Round(c.Value.GetProperty(property).GetDouble(), digits));

    private async Task<(int Code, System.Text.Json.JsonElement Json)> TestAsync(
        IEnumerable<string> rows, string? option = null, string? value = null, string heading = "patch,read,red,green,blue")
    {
        string[] more = option is null || value is null ? [] : [option, value];
        var (code, output, error) = await _program.RunAsync(["repeatability", "--from", await FileAsync(heading, rows), "--json", .. more]);
        Assert.True(code is 0 or 1, error);
        return (code, System.Text.Json.JsonDocument.Parse(output).RootElement);
    }

    private async Task<string> FileAsync(string heading, IEnumerable<string> rows)
    {
        var file = Path.Combine(_program.Folder, "reads.csv");
        await File.WriteAllLinesAsync(file, [heading, .. rows], Encoding.UTF8, Token);
        return file;
    }
}
