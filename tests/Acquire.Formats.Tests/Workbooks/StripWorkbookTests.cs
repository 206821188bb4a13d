using Acquire.Formats.Strips;
using Acquire.Formats.Workbooks;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using DocumentFormat.OpenXml.Validation;
using CellOfSheet = DocumentFormat.OpenXml.Spreadsheet.Cell;
using CellStyle = Acquire.Formats.Workbooks.CellStyle;

namespace Acquire.Formats.Tests.Workbooks;

/// <summary>Another implementation reads the workbook and holds it against the schemas of the standard.</summary>
[Trait("Source", "ECMA-376 schemas as in the DocumentFormat.OpenXml validator")]
public sealed class StripWorkbookTests
{
    private const string Nasty = "=cmd|'/c calc'!A1 \"x\"\r\n\0_x0041_ ö − 日 🎞";

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Workbook_is_valid_and_has_its_sheets_in_order()
    {
        using var document = await OpenAsync(Exports());

        Assert.Empty(new OpenXmlValidator(DocumentFormat.OpenXml.FileFormatVersions.Office2016).Validate(document, Token)
            .Select(e => $"{e.Part?.Uri} {e.Path?.XPath} {e.Description}"));
        Assert.Equal(
            ["Strips", "Plots", "Plot data", "Reads"],
            document.WorkbookPart!.Workbook!.Sheets!.Elements<Sheet>().Select(s => s.Name!.Value));
    }

    [Fact]
    public async Task Texts_are_texts_and_no_cell_has_a_formula()
    {
        using var document =
            await OpenAsync([Export(Some.Strip() with { Tags = new StripTags { Note = Nasty, Line = "+1", Bottle = "@x" } })]);

        Assert.All(document.WorkbookPart!.WorksheetParts, p => Assert.Empty(p.Worksheet!.Descendants<CellFormula>()));
        var texts = Cells(document, "Strips").Where(c => c.DataType?.Value == CellValues.InlineString).Select(c => c.InnerText).ToList();
        Assert.Contains("+1", texts);
        Assert.Contains("@x", texts);
        Assert.Contains("=cmd|'/c calc'!A1 \"x\"_x000D_\n_x0000__x005F_x0041_ ö − 日 🎞", texts);
    }

    [Fact]
    public async Task Times_are_dates_deviations_numbers_and_the_heading_stays()
    {
        using var document = await OpenAsync([Export(Some.Strip())]);
        var row = Cells(document, "Strips").Where(c => c.CellReference!.Value!.EndsWith('2')).ToList();

        Assert.Equal(
            Some.Evening.UtcDateTime,
            DateTime.FromOADate(double.Parse(row[0].InnerText, System.Globalization.CultureInfo.InvariantCulture)),
            TimeSpan.FromMilliseconds(1));
        Assert.Equal((uint)CellStyle.Time, row[0].StyleIndex!.Value);
        Assert.Contains(row, c => c.InnerText == "-0.07" && c.StyleIndex!.Value == (uint)CellStyle.DeviationAction);
        Assert.Contains(row, c => c.InnerText == "LD red action");
        var sheet = Part(document, "Strips").Worksheet!;
        Assert.Equal(PaneStateValues.Frozen, sheet.Descendants<Pane>().Single().State!.Value);
        Assert.All(sheet.Descendants<Column>(), c => Assert.True(c.Width!.Value > 5));
    }

    [Fact]
    public async Task Charts_one_per_line_and_parameter_take_their_numbers_from_the_plot_data()
    {
        using var document = await OpenAsync(Exports());
        var charts = Part(document, "Plots").DrawingsPart!.ChartParts.ToList();

        Assert.Equal(2, charts.Count);
        Assert.All(charts, c => Assert.Equal(
            ["LD red", "LD action, lower", "LD action, upper", "LD control, lower", "LD control, upper"],
            c.ChartSpace!.Descendants<DocumentFormat.OpenXml.Drawing.Charts.SeriesText>().Select(t => Value(document, t.InnerText))));
        Assert.Contains(
            "'Plot data'!$C$2:$C$4",
            charts.SelectMany(c => c.ChartSpace!.Descendants<DocumentFormat.OpenXml.Drawing.Charts.XValues>()).Select(x => x.InnerText));
    }

    [Fact]
    public async Task Limits_of_a_single_channel_have_columns_and_lines_of_their_own()
    {
        var strip = Some.Strip(judgedBy: Some.SheetWithOwnLimits);
        using var document = await OpenAsync([new(strip, [.. Channels.Colours.Select(
            c => new ExportedParameter("speed", "LD", c, 0.7, 0.72, -0.02, 0.006, Zone.Inside) { Unit = "log H" })])]);

        var cells = Cells(document, "Plot data").ToDictionary(c => c.CellReference!.Value!, c => c.InnerText);
        var values = cells.Where(c => c.Key.EndsWith('1')).ToDictionary(c => c.Value, c => cells.GetValueOrDefault(c.Key[..^1] + "2", ""));
        Assert.Equal(
            ("-0.03", "0.12", ""), (values["LD blue action, lower"], values["LD blue action, upper"], values["LD blue control, upper"]));
        Assert.Equal(("-0.06", "0.08"), (values["LD red action, lower"], values["LD green control, upper"]));
        Assert.DoesNotContain("LD action, lower", values.Keys);
        var chart = Assert.Single(Part(document, "Plots").DrawingsPart!.ChartParts).ChartSpace!;
        Assert.Equal(3 + (3 * 4) - 2, chart.Descendants<DocumentFormat.OpenXml.Drawing.Charts.SeriesText>().Count());
        Assert.Contains("deviation from aim (log H)", chart.InnerText, StringComparison.Ordinal);
        Assert.Empty(new OpenXmlValidator().Validate(document, Token).Select(e => e.Description));
    }

    [Fact]
    public async Task Workbook_without_strips_or_deviations_is_valid_too()
    {
        using var none = await OpenAsync([]);
        using var bare = await OpenAsync([new StripExport(Some.Strip(), [])]);

        Assert.All([none, bare], d => Assert.Empty(new OpenXmlValidator().Validate(d, Token).Select(e => e.Description)));
        Assert.Equal(6, Part(bare, "Reads").Worksheet!.Descendants<Row>().Count());
    }

    [Fact]
    public async Task Reads_that_fill_a_sheet_go_on_in_the_next()
    {
        using var stream = new MemoryStream();
        var sheets = new List<int>();
        using (var package = new XlsxPackage(stream))
        {
            await new ReadSheets(TimeZoneInfo.Utc, mostRows: 4).WriteAsync(
                new[] { Some.Strip(), Some.Strip() }.ToAsyncEnumerable(),
                async write => await package.AddAsync($"/s{sheets.Count}.xml", "spreadsheetml.worksheet+xml", async xml =>
                {
                    var sheet = new SheetWriter(xml);
                    await write(sheet);
                    sheets.Add(sheet.Rows);
                }),
                Token);
        }

        Assert.Equal([4, 4, 4, 2], sheets);
    }

    [Fact]
    public void XlsxText_any_is_text_that_xml_can_hold() =>
        Gens.Text.Sample(text => System.Xml.XmlConvert.VerifyXmlChars(XlsxText.Of(text)));

    private static StripExport[] Exports() =>
    [
        .. Enumerable.Range(0, 6)
            .Select(i => Export(Some.Strip(at: Some.Evening.AddDays(i), line: i % 2 == 0 ? "dip tank" : "bench-top machine"))),
    ];

    private static StripExport Export(StripRecord strip) =>
        new(strip, [new("speed", "LD", Channel.Red, 0.65, 0.72, -0.07, 0.006, Zone.Action)]);

    private static async Task<SpreadsheetDocument> OpenAsync(StripExport[] strips)
    {
        var stream = new MemoryStream();
        await StripWorkbook.WriteAsync(strips.ToAsyncEnumerable(), TimeZoneInfo.Utc, stream, Token);
        return SpreadsheetDocument.Open(new MemoryStream(stream.ToArray()), isEditable: false);
    }

    private static WorksheetPart Part(SpreadsheetDocument document, string name) => (WorksheetPart)document.WorkbookPart!.GetPartById(
        document.WorkbookPart.Workbook!.Sheets!.Elements<Sheet>().Single(s => s.Name == name).Id!.Value!);

    private static IEnumerable<CellOfSheet> Cells(SpreadsheetDocument document, string name) =>
        Part(document, name).Worksheet!.Descendants<CellOfSheet>();

    private static string Value(SpreadsheetDocument document, string formula) => Cells(document, "Plot data")
        .Single(c => c.CellReference!.Value == formula.Split('!')[1].Replace("$", "", StringComparison.Ordinal)).InnerText;
}
