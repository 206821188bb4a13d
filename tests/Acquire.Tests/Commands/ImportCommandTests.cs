using System.Text.Json;

namespace Acquire.Tests.Commands;

public sealed class ImportCommandTests : IDisposable
{
    private const string Contract = "strip,processed_at,lot,line,bottle,patch,read,red,green,blue\n";

    private const string Sheet = "Nr;Datum;Code;Tank;LD R;LD G;LD B;HD R;HD G;HD B\n1;{0};2417;dip tank;0,46;0,84;1,04;1,26;1,74;2,00\n";

    private readonly InMemory _program = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _program.Dispose();

    [Fact]
    public async Task Dry_run_shows_what_would_be_and_writes_nothing()
    {
        await AddLotAsync();
        var file = await FileAsync("strips.csv", Contract + "7,2026-03-04 18:30,2417,dip tank,D7,ld,1,0.46,0.84,1.04\n");

        var (code, output, _) = await _program.RunAsync("import", "strips", file, "--dry-run");

        Assert.Equal(0, code);
        Assert.Contains("+ line 2: strip 7, ", output, StringComparison.Ordinal);
        Assert.Contains("1 strip would be added with 1 read.", output, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.JsonAsync("strip", "list")).GetArrayLength());
    }

    [Fact]
    public async Task Import_makes_deviations_from_the_reference_in_force_and_is_idempotent()
    {
        await AddLotAsync(reference: true);
        var file = await FileAsync("strips.csv", Contract + "7,2026-03-04 18:30,2417,dip tank,D7,ld,1,0.56,0.84,1.04\n");

        Assert.Equal((1, 0), Counts(await _program.JsonAsync("import", "strips", file)));
        Assert.Equal((0, 1), Counts(await _program.JsonAsync("import", "strips", file)));

        var strip = Assert.Single((await _program.JsonAsync("strip", "list")).EnumerateArray());
        Assert.Equal("out", strip.GetProperty("zone").GetString());
        Assert.Equal("dip tank", strip.GetProperty("line").GetString());
    }

    [Fact]
    public async Task Value_that_goes_with_none_of_the_others_is_asked_about_and_kept()
    {
        const string Asked = "strip 8: LD green 0.48 goes with none of the other values: was 0.84 meant?";
        await AddLotAsync(reference: true);
        var file = await FileAsync("strips.csv", Contract
            + Rows(7, "2026-03-04", "ld,1,0.46,0.84,1.04") + Rows(8, "2026-03-05", "ld,1,0.46,0.48,1.04"));

        var question = Assert.Single(
            (await _program.JsonAsync("import", "strips", file, "--dry-run")).GetProperty("questions").EnumerateArray());
        Assert.Equal("wrong_value", question.GetProperty("kind").GetString());
        Assert.Equal("8", question.GetProperty("strip").GetString());
        Assert.Equal(7, question.GetProperty("line").GetInt32());
        foreach (var dryRun in new[] { true, false })
        {
            var (code, _, error) = await _program.RunAsync(["import", "strips", file, .. dryRun ? ["--dry-run"] : Array.Empty<string>()]);

            Assert.Equal(0, code);
            Assert.Contains(Asked, error, StringComparison.Ordinal);
            Assert.DoesNotContain("strip 7:", error, StringComparison.Ordinal);
            Assert.Equal(dryRun ? 0 : 2, (await _program.JsonAsync("strip", "list")).GetArrayLength());
        }
    }

    private static string Rows(int strip, string day, string low) => string.Concat(
        new[] { "dmin,1,0.26,0.62,0.80", low, "hd,1,1.26,1.74,2.00", "dmax,1,2.12,2.58,2.92", "yellow,1,0.37,0.88,2.72" }
            .Select(p => $"{strip},{day},2417,dip tank,D7,{p}\n"));

    [Fact]
    public async Task Ambiguous_date_is_refused_with_both_readings_and_taken_with_the_option()
    {
        await AddLotAsync();
        var (file, map) = await MappedAsync("03/04/2026");

        var (code, _, error) = await _program.RunAsync("import", "strips", file, "--map", map);
        Assert.Equal(2, code);
        Assert.Contains("'03/04/2026' can be 3 April 2026 (--dates dmy) or 4 March 2026 (--dates mdy)", error, StringComparison.Ordinal);

        Assert.Equal((1, 0), Counts(await _program.JsonAsync("import", "strips", file, "--map", map, "--dates", "mdy")));
        Assert.StartsWith(
            "2026-03-04", (await _program.JsonAsync("strip", "list"))[0].GetProperty("readAt").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Changed_value_is_a_conflict_that_stops_all_until_skipped()
    {
        await AddLotAsync();
        var (file, map) = await MappedAsync("25.03.2026");
        await _program.RunAsync("import", "strips", file, "--map", map);
        await File.WriteAllTextAsync(file, (await File.ReadAllTextAsync(file, Token)).Replace("0,46", "0,47", StringComparison.Ordinal)
            + "2;26.03.2026;2417;dip tank;0,46;0,84;1,04;1,26;1,74;2,00\n", Token);

        var (code, _, error) = await _program.RunAsync("import", "strips", file, "--map", map);
        Assert.Equal(2, code);
        Assert.Contains(
            "ld read 1 is R 0.46 G 0.84 B 1.04 in the store, R 0.47 G 0.84 B 1.04 in the file", error, StringComparison.Ordinal);
        Assert.Equal(1, (await _program.JsonAsync("strip", "list")).GetArrayLength());

        Assert.Equal(0, (await _program.RunAsync("import", "strips", file, "--map", map, "--skip-conflicts")).Code);
        Assert.Equal(2, (await _program.JsonAsync("strip", "list")).GetArrayLength());
    }

    [Fact]
    public async Task Expired_lot_future_date_and_missing_patches_are_told_and_imported()
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41", "--expires", "2020-01-31");
        var file = await FileAsync("strips.csv", Contract + "7,2199-03-04,2417,,,ld,1,0.46,0.84,1.04\n");

        var (code, _, error) = await _program.RunAsync("import", "strips", file);

        Assert.Equal(0, code);
        Assert.Contains("lot 2417 had expired on 2020-01-31", error, StringComparison.Ordinal);
        Assert.Contains("lies in the future", error, StringComparison.Ordinal);
        Assert.Contains("no reads of dmin, hd, dmax, yellow", error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Unknown_lot_patch_file_and_map_are_bad_input()
    {
        var file = await FileAsync("strips.csv", Contract + "7,2026-03-04,9999,,,sky,1,0.46,0.84,1.04\n");
        var unknown = await _program.RunAsync("import", "strips", file);
        Assert.Equal(2, unknown.Code);
        Assert.Contains("line 2: there is no lot 9999 in the store", unknown.Error, StringComparison.Ordinal);

        var patch = await _program.RunAsync("import", "strips", file, "--add-lots", "--process", "c41");
        Assert.Equal(2, patch.Code);
        Assert.Contains(
            "there is no patch 'sky' on strips of lot 9999; they have dmin, ld, hd, dmax, yellow", patch.Error, StringComparison.Ordinal);
        Assert.Equal(0, (await _program.JsonAsync("lot", "list")).GetArrayLength());

        Assert.Equal(2, (await _program.RunAsync("import", "strips", Path.Combine(_program.Folder, "none.csv"))).Code);
        Assert.Equal(2, (await _program.RunAsync("import", "strips", file, "--map", Path.Combine(_program.Folder, "none.json"))).Code);
        Assert.Equal(2, (await _program.RunAsync("import", "strips", await FileAsync("odd.csv", "a,b\n1,2\n"))).Code);
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("jsonl")]
    [InlineData("cgats")]
    public async Task Export_into_an_empty_store_and_out_again_is_the_same_file(string format)
    {
        await AddLotAsync(reference: true);
        await _program.RunAsync("import", "strips", await FileAsync(
            "strips.csv",
            Contract + "7,2026-03-04 18:30,2417,dip tank,\"=D7, \"\"half\"\"\",ld,1,0.460,-0.01,1.04\n7,2026-03-04 18:30,2417,dip "
                + "tank,\"=D7, \"\"half\"\"\",ld,2,0.47,0.00,1.04\n8,2026-03-05,2417,-line,,hd,1,1.3,,2\n"));
        var (first, second) = (Path.Combine(_program.Folder, "first." + format), Path.Combine(_program.Folder, "second." + format));
        Assert.Equal(0, (await _program.RunAsync("export", "strips", "--format", format, "--out", first)).Code);

        using var other = new InMemory();
        var (code, output, error) = await other.RunAsync("import", "strips", first, "--add-lots");
        Assert.True(code == 0, error);
        Assert.Contains("2 strips added with 3 reads.", output, StringComparison.Ordinal);
        await other.RunAsync("export", "strips", "--format", format, "--out", second);

        Assert.Equal(await File.ReadAllBytesAsync(first, Token), await File.ReadAllBytesAsync(second, Token));
        Assert.Equal((0, 2), Counts(await _program.JsonAsync("import", "strips", first)));
    }

    [Fact]
    public async Task Cgats_of_another_program_needs_lot_process_and_date()
    {
        var file = await FileAsync(
            "foreign.txt",
            "CGATS.17\nWEIGHTING_FUNCTION \"DENSITY_STATUS,M\"\nBEGIN_DATA_FORMAT\nSAMPLE_NAME D_RED D_GREEN "
            + "D_BLUE\nEND_DATA_FORMAT\nBEGIN_DATA\n\"D-min\" 0.32 0.63 0.72\nEND_DATA\n");

        Assert.Contains("no CREATED", (await _program.RunAsync("import", "strips", file)).Error, StringComparison.Ordinal);
        Assert.Contains(
            "the file names no lot",
            (await _program.RunAsync("import", "strips", file, "--processed-at", "2026-03-04")).Error,
            StringComparison.Ordinal);
        var (code, _, error) = await _program.RunAsync(
            "import",
            "strips", file, "--processed-at", "2026-03-04", "--lot", "1234", "--line", "dip tank", "--add-lots", "--process", "c41");
        Assert.True(code == 0, error);
        Assert.Equal("dip tank", (await _program.JsonAsync("strip", "list"))[0].GetProperty("line").GetString());

        var status =
            await FileAsync("a.txt", (await File.ReadAllTextAsync(file, Token)).Replace("STATUS,M", "STATUS,A", StringComparison.Ordinal));
        var wrong = await _program.RunAsync("import", "strips", status, "--processed-at", "2026-03-05", "--lot", "1234");
        Assert.Equal(2, wrong.Code);
        Assert.Contains(
            "the densities are status A, and strips of process c41 are read with status M", wrong.Error, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Workbook_is_written_and_counts_each_strip_once()
    {
        await AddLotAsync(reference: true);
        await _program.RunAsync("import", "strips", await FileAsync("strips.csv", Contract + "7,2026-03-04,2417,,,ld,1,0.46,0.84,1.04\n"));

        var (code, _, error) = await _program.RunAsync("export", "strips", "--out", Path.Combine(_program.Folder, "strips.xlsx"));

        Assert.Equal(0, code);
        Assert.Contains("1 strip written to ", error, StringComparison.Ordinal);
        Assert.True(new FileInfo(Path.Combine(_program.Folder, "strips.xlsx")).Length > 2000);
    }

    private static (int Added, int There) Counts(JsonElement report) =>
        (report.GetProperty("added").GetInt32(), report.GetProperty("alreadyThere").GetInt32());

    private async Task AddLotAsync(bool reference = false)
    {
        await _program.RunAsync("lot", "add", "2417", "--process", "c41");
        if (reference)
        {
            await _program.RunAsync(
                "lot", "reference", "2417",
                "--value", "dmin 0.26 0.62 0.80", "--value", "ld 0.45 0.86 1.04", "--value", "hd 1.26 1.74 2.00",
                "--value", "dmax 2.12 2.58 2.92", "--value", "yellow 0.37 0.88 2.72");
        }
    }

    private async Task<(string File, string Map)> MappedAsync(string date)
    {
        var file = await FileAsync("old.csv", Sheet.Replace("{0}", date, StringComparison.Ordinal));
        var map = Path.Combine(_program.Folder, "map.json");
        var (code, output, error) = await _program.RunAsync("import", "map", "new", "--from", file, "--out", map);
        Assert.True(code == 0, error);
        Assert.Contains("a row per strip", output, StringComparison.Ordinal);
        return (file, map);
    }

    private async Task<string> FileAsync(string name, string text)
    {
        var file = Path.Combine(_program.Folder, name);
        await File.WriteAllTextAsync(file, text, Token);
        return file;
    }
}
