using Acquire.Formats.Strips;
using CsvHelper;

namespace Acquire.Formats.Tests.Strips;

public sealed class StripCsvTests
{
    [Fact]
    public async Task Csv_one_strip_is_these_lines()
    {
        var strip = Some.Strip(new Guid("0195a1b2-0000-7000-8000-00000000aaaa"));
        var lines = (await Exports.CsvAsync(Exports.Of(strip))).Split("\r\n");

        Assert.Equal(string.Join(',', StripCsv.Headings), lines[0]);
        Assert.Equal(
            "read,0195a1b2-0000-7000-8000-00000000aaaa,1,2026-03-12T18:30:01.0000000+00:00,\"Ines, evening class\",A1207,c41,dip tank,"
            + "\"dev 3, half full\",first after new mix,dmin,1,0.260,0.620,0.800,,yes,,R 0.260 G 0.620 B 0.800,,,,,,,,,,,,,,bench",
            lines[1]);
        Assert.Contains(",no,slipped,", lines[3], StringComparison.Ordinal);
        Assert.Contains(",no,\"scratch, see =note\",", lines[5], StringComparison.Ordinal);
        Assert.EndsWith(",dmin,,,,,,,,,,,red,0.26,2,0,0.25,,,,,,,bench", lines[6], StringComparison.Ordinal);
        Assert.EndsWith(",speed,LD,red,0.71,,,0.72,-0.01,0.006,inside,density,,,bench", lines[12], StringComparison.Ordinal);
        Assert.EndsWith(",contrast-spread,HD − LD spread,,0.12,,,,,,out,,Not all was read.,,bench", lines[13], StringComparison.Ordinal);
        Assert.Equal("", lines[^1]);
        Assert.Equal(15, lines.Length);
    }

    [Theory]
    [Trait("Source", "RFC 4180 section 2, rules 6 and 7: line breaks, commas and quotes are enclosed, quotes doubled")]
    [InlineData("b\r\nbb", "\"b\r\nbb\"")]
    [InlineData("b\"bb", "\"b\"\"bb\"")]
    [InlineData("b,bb", "\"b,bb\"")]
    [InlineData("zzz", "zzz")]
    public async Task Csv_text_is_quoted_as_the_standard_says(string note, string cell)
    {
        var csv = await Exports.CsvAsync(Exports.Of(Some.Strip() with { Tags = Some.Strip().Tags with { Note = note } }));

        Assert.Contains($",\"dev 3, half full\",{cell},dmin,", csv, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Csv_semicolon_cannot_open_a_cell_in_other_spreadsheets()
    {
        var csv = await Exports.CsvAsync(Exports.Of(Some.Strip() with { Tags = new StripTags { Note = "a;=1+1" } }));

        Assert.Contains(",\"a;=1+1\",", csv, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Csv_no_strips_is_the_header_alone() =>
        Assert.Equal(1, (await Exports.CsvAsync()).Split("\r\n").Count(l => l.Length > 0));

    [Fact]
    public void Columns_are_all_documented()
    {
        var document = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "EXPORT.md"));

        Assert.All(StripCsv.Headings, h => Assert.Contains($"`{h}`", document, StringComparison.Ordinal));
    }

    [Fact]
    public async Task Csv_nasty_texts_come_back_from_a_reader()
    {
        const string Nasty = "=\"x\",\r\n'; ö − 日";
        using var text = new StringReader(
            await Exports.CsvAsync(Exports.Of(Some.Strip() with { Tags = new StripTags { Note = Nasty, Line = "-0.03" } })));
        using var csv = new CsvReader(text, CultureInfo.InvariantCulture);
        _ = await csv.ReadAsync();
        _ = csv.ReadHeader();
        _ = await csv.ReadAsync();

        Assert.Equal("'" + Nasty, csv["note"]);
        Assert.Equal("-0.03", csv["line"]);
    }
}
