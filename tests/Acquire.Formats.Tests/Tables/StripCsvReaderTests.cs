using System.Text;
using Acquire.Formats.Csv;
using Acquire.Formats.Strips;
using Acquire.Formats.Tables;

namespace Acquire.Formats.Tests.Tables;

public sealed class StripCsvReaderTests : IDisposable
{
    private const string Contract = "strip,processed_at,lot,line,bottle,patch,read,red,green,blue\n";

    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Row_per_patch_gathers_the_rows_of_a_strip()
    {
        var strips = await ReadAsync(
            Contract + "7,2026-03-04 18:30,2417,dip tank,D7,ld,2,0.47,0.84,1.04\n7,2026-03-04 18:30,2417,dip tank,D7,LD,1,0.460,0.84,1.04\n"
            + "7,2026-03-04 18:30,2417,dip tank,D7,dmin,1,0.26,,0.80\n8,2026-03-05,2417,,,ld,,0.46,0.84,1.04\n");

        Assert.Equal(["7", "8"], strips.Select(s => s.Name));
        Assert.Equal(["ld", "dmin"], strips[0].Patches.Select(p => p.Word));
        Assert.Equal(
            ["R 0.460 G 0.84 B 1.04", "R 0.47 G 0.84 B 1.04"], strips[0].Patches[0].Reads.Select(r => r.Reading.Densities.ToString()));
        Assert.Equal("R 0.26 B 0.80", Assert.Single(strips[0].Patches[1].Reads).Reading.Densities.ToString());
        Assert.Equal(
            ("dip tank", "D7", new DateTimeOffset(2026, 3, 4, 18, 30, 0, TimeSpan.Zero)),
            (strips[0].Tags.Line, strips[0].Tags.Bottle, strips[0].At));
        Assert.Equal(5, strips[1].Spot.Line);
    }

    [Theory]
    [InlineData(
        "Nr;Datum;Zeit;Code;D-min R;D-min G;D-min B;LD R;LD G;LD B;LD R 2\n1;04.03.2026;18:30;2417;0,26;0,62;0,80;0,460;0,84;1,04;,47\n")]
    [InlineData("Nr\tDatum\tZeit\tCode\tdmin_red\tdmin_green\tdmin_blue\tLD red\tLD green\tLD blue\tld red "
        + "2\n1\t04.03.2026\t18:30\t2417\t0.26\t0.62\t0.80\t0.460\t0.84\t1.04\t.47\n\n")]
    [InlineData("\uFEFF\"Nr\",\"Datum\",\"Zeit\",\"Code\",\"Dmin R\",\"Dmin G\",\"Dmin "
        + "B\",\"LD-R\",\"LD-G\",\"LD-B\",\"LD-R2\"\r\n"
        + "1,04.03.2026,18:30,2417,\"0,26\",\"0,62\",\"0,80\",\"0,460\",\"0,84\",\"1,04\",\",47\"")]
    public async Task Row_per_strip_of_every_usual_form_gives_the_same(string text)
    {
        var strip = Assert.Single(await ReadAsync(text, DateStyle.Dmy));

        Assert.Equal(new DateTimeOffset(2026, 3, 4, 18, 30, 0, TimeSpan.Zero), strip.At);
        Assert.Equal(["dmin", "ld"], strip.Patches.Select(p => p.Word));
        Assert.Equal(["R 0.460 G 0.84 B 1.04", "R 0.47"], strip.Patches[1].Reads.Select(r => r.Reading.Densities.ToString()));
    }

    /// <summary>The examples of the rules in section 2, with the last cell of a row that ends without a line break.</summary>
    [Theory]
    [Trait("Source", "RFC 4180 section 2, rules 1 to 7")]
    [InlineData("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData("aaa,bbb,ccc\r\nzzz,yyy,xxx", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData(
        "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
        "field_name|field_name|field_name",
        "aaa|bbb|ccc",
        "zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|bbb|ccc", "zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "aaa|b\r\nbb|ccc", "zzz|yyy|xxx")]
    [InlineData("\"aaa\",\"b\"\"bb\",\"ccc\"", "aaa|b\"bb|ccc")]
    public async Task Table_reads_the_examples_of_the_standard(string text, params string[] rows) =>
        Assert.Equal(rows, (await CsvTable.ReadAsync(await FileAsync(text), "rows", null, trim: false, Token).ToListAsync(Token)).Select(
            r => string.Join('|', r.Cells)));

    [Theory]
    [InlineData("7,2026-03-04,2417,,,ld,1,0.46,0.8", "line 2: the file is cut off here", "9 of 10 cells")]
    [InlineData("7,2026-03-04,2417,,,ld,1,0.46,0.84,\"1.0", "line 2", "quote")]
    [InlineData("7,2026-03-04,2417,,,ld,1,0.46,x,1.04\n", "line 2: green is 'x' in column 'green'; expected a density such as 0.26")]
    [InlineData("7,2026-03-04,2417,,,ld,1,0.46,84,1.04\n", "line 2: green is '84'")]
    [InlineData("7,2026-03-04,2417,,,ld,1,1.234,567,1.04\n", "line 2: green is '567'")]
    [InlineData("7,2026-03-04,2417,,,ld,1,0,46,0,84,1,04\n", "line 2: the row has 13 cells, the heading 10")]
    [InlineData("7,04.03.2026,2417,,,ld,1,0.46,0.84,1.04\n", "line 2: processed_at is '04.03.2026'; expected a date with year, month, day")]
    [InlineData("7,2026-03-04,,,,ld,1,0.46,0.84,1.04\n", "line 2: lot is empty")]
    [InlineData("7,2026-03-04,2417,,,,1,0.46,0.84,1.04\n", "line 2: patch is empty")]
    [InlineData("7,2026-03-04,2417,,,ld,one,0.46,0.84,1.04\n", "line 2: read is 'one'")]
    [InlineData(
        "7,2026-03-04,2417,,,ld,1,0.46,0.84,1.04\n7,2026-03-04,2417,,,LD,1,0.46,0.84,1.04\n",
        "line 3: read 1 of patch LD stands in strip 7 already")]
    public async Task Row_that_cannot_be_read_names_file_line_and_what_was_expected(string row, params string[] said)
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => ReadAsync(Contract + row));

        Assert.All([_folder.Path, .. said], s => Assert.Contains(s, error.Message, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Map_of_another_file_lists_the_headings_there_are()
    {
        var map = (await ProposalAsync(Contract)).Map;
        var error = await Assert.ThrowsAsync<ImportException>(async () =>
            await StripCsvReader.ReadAsync(await FileAsync("Datum;Feld;R\n1;2;3\n"), map, DateStyle.Ymd, TimeZoneInfo.Utc, Token)
                .ToListAsync(Token));

        Assert.Contains("which the file lacks; it has 'Datum', 'Feld', 'R'", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Map_written_to_a_file_comes_back()
    {
        var map = (await ProposalAsync("Datum;Code;LD R;LD G;LD B\n")).Map with
        {
            Dates = DateStyle.Dmy,
            DecimalMark = ',',
            TimeZone = "Europe/Berlin",
            Patches = ImmutableSortedDictionary<string, string>.Empty.Add("grau", "ld"),
            Constants = ImmutableSortedDictionary<string, string>.Empty.Add("line", "dip tank"),
        };
        await File.WriteAllTextAsync(_folder.In("map.json"), ColumnMapFile.Write(map), Token);

        Assert.Equal(ColumnMapFile.Write(map), ColumnMapFile.Write(await ColumnMapFile.ReadAsync(_folder.In("map.json"), Token)));
    }

    [Theory]
    [InlineData("{", "line 1")]
    [InlineData("{\n \"rows\": \"column\"\n}", "line 2")]
    [InlineData("{ \"rows\": \"patch\", \"colums\": {} }", "line 1")]
    [InlineData(
        "{ \"rows\": \"patch\", \"columns\": { \"date\": \"Datum\" } }", "columns names 'date', which is none of strip, processed_at")]
    [InlineData("{ \"rows\": \"strip\" }", "densities lists the columns; it is empty")]
    [InlineData("{ \"rows\": \"patch\", \"constants\": { \"read\": \"1\" } }", "constants names 'read'")]
    [InlineData("{ \"rows\": \"patch\", \"decimalMark\": \";\" }", "expected a point or a comma")]
    [InlineData("{ \"rows\": \"strip\", \"densities\": [ { \"column\": \"a\", \"patch\": \"ld\", \"channel\": \"red\" }, { \"column\": "
        + "\"b\", \"patch\": \"LD\", \"channel\": \"red\" } ] }", "'a' and 'b' are both")]
    public async Task Map_that_is_wrong_says_where(string json, string said)
    {
        await File.WriteAllTextAsync(_folder.In("map.json"), json, Token);

        var error = await Assert.ThrowsAsync<ImportException>(() => ColumnMapFile.ReadAsync(_folder.In("map.json"), Token));

        Assert.Contains(said, error.Message, StringComparison.Ordinal);
        Assert.Contains("map.json", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Proposal_of_own_headings_is_sure_and_of_others_is_not()
    {
        Assert.True((await ProposalAsync(Contract)).IsSure);
        Assert.True((await ProposalAsync(string.Join(',', StripReadsCsv.Headings) + "\n")).Map.Guarded);
        var other = await ProposalAsync("Datum;Code;LD R;Wetter\n");
        Assert.False(other.IsSure);
        Assert.Equal(["Wetter"], other.Unknown);
    }

    [Fact]
    public async Task Proposal_knows_the_line_and_the_developer_of_a_German_sheet()
    {
        var proposal = await ProposalAsync("Datum;Uhrzeit;Charge;Linie;Entwickler;LD R;LD G;LD B;Bemerkung\n");

        Assert.Empty(proposal.Unknown);
    }

    /// <summary>Noise gives strips or an error for the user, never another exception.</summary>
    [Fact]
    public Task Read_of_noise_never_crashes() => Gen.Select(Gen.Bool, Gen.OneOf(
        Gen.Byte.Array[0, 200],
        Gen.OneOf("0.4", ",", ";", "\n", "\r", "\"", "ld", "\0", "ÿ", "2026-03-04", "7", "\t").Array[0, 80].Select(
            p => Encoding.UTF8.GetBytes(string.Concat(p))))).SampleAsync(
        async (heading, noise) =>
        {
            var file = _folder.In($"{Guid.NewGuid():N}.csv");
            await File.WriteAllBytesAsync(file, heading ? [.. Encoding.UTF8.GetBytes(Contract), .. noise] : noise, Token);
            try
            {
                var map = (await MapProposal.OfAsync(file, Some.Layout, Token)).Map;
                await foreach (var strip in StripCsvReader.ReadAsync(file, map, DateStyle.Ymd, TimeZoneInfo.Utc, Token))
                {
                    Assert.NotEmpty(strip.Lot);
                }
            }
            catch (ImportException e)
            {
                Assert.StartsWith(file, e.Message, StringComparison.Ordinal);
                Assert.DoesNotContain(e.Message, char.IsControl);
            }
        }, iter: 400);

    private async Task<string> FileAsync(string text)
    {
        await File.WriteAllTextAsync(_folder.In("strips.csv"), text, Token);
        return _folder.In("strips.csv");
    }

    private async Task<MapProposal> ProposalAsync(string text) => await MapProposal.OfAsync(await FileAsync(text), Some.Layout, Token);

    private async Task<List<ImportedStrip>> ReadAsync(string text, DateStyle dates = DateStyle.Ymd)
    {
        var map = (await ProposalAsync(text)).Map;
        return await StripCsvReader.ReadAsync(_folder.In("strips.csv"), map, dates, TimeZoneInfo.Utc, Token).ToListAsync(Token);
    }
}
