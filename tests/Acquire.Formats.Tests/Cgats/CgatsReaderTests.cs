using System.Text;
using Acquire.Formats.Cgats;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Tests.Cgats;

public sealed class CgatsReaderTests : IDisposable
{
    private const string Good = """
        CGATS.17
        ORIGINATOR	"strip service test"
        FILE_DESCRIPTOR	"C-41 control strip, status M"
        DESCRIPTOR	"C-41 control strip, status M"
        CREATED	"2026-11-25"
        DIFFUSE_GEOMETRY	"opal"
        KEYWORD	"STRIP_CODE"
        STRIP_CODE	"1234"
        WEIGHTING_FUNCTION	"DENSITY_STATUS,M"
        NUMBER_OF_FIELDS	5
        BEGIN_DATA_FORMAT
        SAMPLE_ID	SAMPLE_NAME	D_RED	D_GREEN	D_BLUE
        END_DATA_FORMAT
        NUMBER_OF_SETS	2
        BEGIN_DATA
        1	"D-min"	0.32	0.63	0.72
        2	"LD step"	0.44	0.76	0.98
        END_DATA

        """;

    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    /// <summary>
    /// Built to the structure that Little CMS, colorSpec and the cgats crate read and write; densities of a photochemical vendor's worked
    /// example.
    /// </summary>
    [Theory]
    [Trait("Source", "structure: Little CMS cmscgats.c, R colorSpec, Rust cgats; numbers: a vendor's page on film control strips")]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public async Task Read_of_a_good_file_gives_header_fields_and_sets(string lineEnd)
    {
        var table = Assert.Single(await ReadAsync(Good.Replace("\n", lineEnd, StringComparison.Ordinal)));

        Assert.Equal("M", table["weighting_function"]!.Split(',')[1]);
        Assert.Equal("1234", table["STRIP_CODE"]);
        Assert.Equal(["SAMPLE_ID", "SAMPLE_NAME", "D_RED", "D_GREEN", "D_BLUE"], table.Fields);
        Assert.Equal(["2", "LD step", "0.44", "0.76", "0.98"], table.Sets[1].Values);
        Assert.Equal(17, table.Sets[1].Line);
    }

    /// <summary>The density columns of a public test file; the blue ones are below zero.</summary>
    [Fact]
    [Trait("Source", "Rust crate cgats, colorburst0_reindex.txt")]
    public async Task Read_of_negative_densities_keeps_them()
    {
        var strip = Assert.Single(await StripsAsync("""
            CGATS.17
            CREATED "2026-11-25"
            NUMBER_OF_FIELDS 8
            BEGIN_DATA_FORMAT
            SAMPLE_ID D_RED D_GREEN D_BLUE D_VIS LAB_L LAB_A LAB_B
            END_DATA_FORMAT
            NUMBER_OF_SETS 3
            BEGIN_DATA
            0 0.062 0.047 -0.012 0.056 95.68 0.76 -10.88
            1 0.149 0.074 -0.005 0.11 91.98 -4.57 -16.21
            5 0.512 0.231 0.053 0.356 76.37 -16.71 -34.68
            END_DATA
            """));

        Assert.Equal(["0", "1", "5"], strip.Patches.Select(p => p.Word));
        Assert.Equal(
            ["R 0.062 G 0.047 B -0.012 V 0.056", "R 0.149 G 0.074 B -0.005 V 0.11", "R 0.512 G 0.231 B 0.053 V 0.356"],
            strip.Patches.Select(p => Assert.Single(p.Reads).Reading.Densities.ToString()));
    }

    [Fact]
    public async Task Strip_of_a_good_file_has_lot_status_date_and_patches()
    {
        var strip = Assert.Single(await StripsAsync(Good));

        Assert.Equal(("1234", DensityStatus.M, null), (strip.Lot, strip.Status, strip.Name));
        Assert.Equal(new DateTimeOffset(2026, 11, 25, 0, 0, 0, TimeSpan.Zero), strip.At);
        Assert.Equal(["D-min", "LD"], strip.Patches.Select(p => p.Word));
    }

    /// <summary>Forms that readers of the format meet and take.</summary>
    [Theory]
    [Trait("Source", "variants listed by the readers of Little CMS, colorSpec and the cgats crate")]
    [InlineData("BEGIN_DATA_FORMAT\nSAMPLE_NAME D_RED D_VISUAL\nEND_DATA_FORMAT\nBEGIN_DATA\nld 4.4E-1 0.5\nEND_DATA\n")]
    [InlineData("# a comment\n\nIT8.7/1\n  begin_data_format sample_name d_red d_vis end_data_format\n\nBEGIN_DATA # here\n  'ld'   "
        + "0.440000000001   0.5  # one\n\nEND_DATA\n")]
    [InlineData("CGATS.17\nNUMBER_OF_SETS 1\nNUMBER_OF_FIELDS 3\nNUMBER_OF_FIELDS 3\nFOREIGN_WORD x "
        + "y\nBEGIN_DATA_FORMAT\nSAMPLE_NAME\tD_RED\nD_VIS\nEND_DATA_FORMAT\nBEGIN_DATA\nld\t0.44\t0.5\nEND_DATA")]
    [InlineData("CGATS.17\r\rBEGIN_DATA_FORMAT\rSampleID\tD_RED\tD_VIS\rEND_DATA_FORMAT\rBEGIN_DATA\rld\t0.44\t0.5\rEND_DATA\r")]
    public async Task Read_of_tolerated_forms_gives_the_density(string text)
    {
        var strip = Assert.Single(await StripsAsync(text, new DateTimeOffset(2026, 3, 4, 0, 0, 0, TimeSpan.Zero)));

        Assert.Equal("ld", Assert.Single(strip.Patches).Word);
        var densities = Assert.Single(strip.Patches[0].Reads).Reading.Densities;
        Assert.Equal(0.44, densities.Red!.Value.ToDouble(), 9);
        Assert.Equal(0.5m, densities.Visual!.Value.Value);
    }

    [Fact]
    public async Task Read_of_tabs_without_quotes_keeps_blanks_and_empty_fields()
    {
        var table = Assert.Single(
            await ReadAsync("BEGIN_DATA_FORMAT\nSAMPLE_NAME\tD_RED\tD_BLUE\nEND_DATA_FORMAT\nBEGIN_DATA\nLD step\t\t0.5\nEND_DATA\n"));

        Assert.Equal(["LD step", "", "0.5"], Assert.Single(table.Sets).Values);
    }

    /// <summary>What Little CMS rejects in its own test of bad files, one fault each, and all of them together.</summary>
    [Theory]
    [Trait("Source", "Little CMS testcms2.c, CheckBadCGATS")]
    [InlineData(
        "CGATS.17\nNUMBER_OF_FIELDS 4\nNUMBER_OF_FIELDS 9\nBEGIN_DATA_FORMAT\nA B C D\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2 3 4\nEND_DATA\n",
        3,
        "NUMBER_OF_FIELDS is 9 here and 4 before")]
    [InlineData("NUMBER_OF_FIELDS 9\nBEGIN_DATA_FORMAT\nA B C D\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2 3 4\nEND_DATA\n", 5, "names 4 fields")]
    [InlineData(
        "BEGIN_DATA_FORMAT\nA B C D\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2 3 4\n1 2\nEND_DATA\n", 6, "2 values and the data format 4 fields")]
    [InlineData("BEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\n", 6, "before END_DATA")]
    [InlineData("CGATS.17\n$\nBEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA\n", 2, "'$' is no keyword")]
    [InlineData("BEGIN_DATA_FORMAT\nA $\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA\n", 2, "'$' is no name of a field")]
    [InlineData("NUMBER_OF_SETS 3\nBEGIN_DATA_FORMAT\nA B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\nEND_DATA\n", 7, "there are 1 rows")]
    [InlineData("BEGIN_DATA\n1 2\nEND_DATA\n", 1, "before any BEGIN_DATA_FORMAT")]
    [InlineData("BEGIN_DATA_FORMAT\nA B\n", 3, "before END_DATA_FORMAT")]
    [InlineData("ORIGINATOR \"x\nBEGIN_DATA\n", 1, "a quote does not close")]
    [InlineData("NUMBER_OF_SETS x\nBEGIN_DATA_FORMAT\nA\nEND_DATA_FORMAT\nBEGIN_DATA\n1\nEND_DATA\n", 7, "expected a whole number")]
    public async Task Read_of_a_bad_file_is_refused_with_the_line(string text, int line, string said)
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => ReadAsync(text));

        Assert.Contains($"{_folder.In("file.txt")}, line {line}: ", error.Message, StringComparison.Ordinal);
        Assert.Contains(said, error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [Trait("Source", "Little CMS, files found by fuzzing: control bytes, and an exponent that overflows")]
    [InlineData(new byte[] { 0x00, 0x0d, 0x0d, 0x0a, 0x20, 0x0d, 0x20, 0x20, 0x20, 0x3a, 0x31, 0x3d, 0x3d, 0x3d, 0x3d })]
    [InlineData(new byte[] { 0x40, 0x0a, 0x41, 0x20, 0x31, 0x2e, 0x65, 0x32, 0x31, 0x34, 0x37, 0x34, 0x38, 0x33, 0x36, 0x34, 0x38, 0x0a })]
    [InlineData(new byte[0])]
    public async Task Read_of_what_crashed_others_is_refused(byte[] bytes)
    {
        await File.WriteAllBytesAsync(_folder.In("file.txt"), bytes, Token);

        _ = await Assert.ThrowsAsync<ImportException>(
            async () => await CgatsReader.ReadAsync(_folder.In("file.txt"), Token).ToListAsync(Token));
    }

    [Theory]
    [InlineData("1.e2147483648")]
    [InlineData("1e999")]
    [InlineData("$")]
    [InlineData("12")]
    [InlineData("0,44")]
    public async Task Strip_of_a_value_that_is_no_density_names_field_and_line(string value)
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => StripsAsync(Good.Replace("0.76", value, StringComparison.Ordinal)));

        Assert.Contains($"line 17: D_GREEN is '{value}'; expected a density", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("CREATED	\"2026-11-25\"", "CREATED \"03/04/2026\"", "3 April 2026 or 4 March 2026; give --dates")]
    [InlineData("CREATED	\"2026-11-25\"", "CREATED \"spring\"", "CREATED is 'spring'")]
    [InlineData("CREATED	\"2026-11-25\"", "#", "no CREATED")]
    [InlineData("STATUS,M", "STATUS,Q", "density status is 'Q'")]
    [InlineData("D_GREEN", "D_RED", "D_RED twice")]
    [InlineData("D_RED	D_GREEN	D_BLUE", "LAB_L	LAB_A	LAB_B", "no densities")]
    [InlineData("SAMPLE_ID	SAMPLE_NAME", "D_VIS	D_MAJOR_FILTER", "neither SAMPLE_NAME nor SAMPLE_ID")]
    public async Task Strip_that_lacks_or_contradicts_says_what(string there, string instead, string said)
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => StripsAsync(Good.Replace(there, instead, StringComparison.Ordinal)));

        Assert.Contains(said, error.Message, StringComparison.Ordinal);
    }

    /// <summary>Noise gives tables or an error for the user, never another exception.</summary>
    [Fact]
    public Task Read_of_noise_never_crashes() => Gen.OneOf(
        Gen.Byte.Array[0, 300],
        Gen.OneOf(
            "BEGIN_DATA_FORMAT\n",
            "END_DATA_FORMAT\n",
            "BEGIN_DATA\n",
            "END_DATA\n",
            "SAMPLE_NAME D_RED\n",
            "ld 0.4\n",
            "\"",
            "\t",
            "#",
            "\r",
            "NUMBER_OF_SETS 1\n",
            "\0",
            "ÿ",
            "CREATED 2026-01-02\n")
            .Array[0, 30].Select(p => Encoding.UTF8.GetBytes(string.Concat(p)))).SampleAsync(
        async noise =>
        {
            var file = _folder.In($"{Guid.NewGuid():N}.txt");
            await File.WriteAllBytesAsync(file, noise, Token);
            try
            {
                await foreach (var strip in StripCgatsReader.ReadAsync(file, Choices(null), Token))
                {
                    Assert.All(strip.Patches, p => Assert.True(p.Line > 0));
                }
            }
            catch (ImportException e)
            {
                Assert.StartsWith(file, e.Message, StringComparison.Ordinal);
                Assert.DoesNotContain(e.Message, char.IsControl);
            }
        }, iter: 400);

    private static CgatsChoices Choices(DateTimeOffset? at) =>
        new(TimeZoneInfo.Utc, null, at, new Dictionary<string, string> { ["LD step"] = "LD" });

    private async Task<List<CgatsTable>> ReadAsync(string text)
    {
        await File.WriteAllTextAsync(_folder.In("file.txt"), text, Token);
        return await CgatsReader.ReadAsync(_folder.In("file.txt"), Token).ToListAsync(Token);
    }

    private async Task<List<ImportedStrip>> StripsAsync(string text, DateTimeOffset? at = null)
    {
        await File.WriteAllTextAsync(_folder.In("file.txt"), text, Token);
        return await StripCgatsReader.ReadAsync(_folder.In("file.txt"), Choices(at), Token).ToListAsync(Token);
    }
}
