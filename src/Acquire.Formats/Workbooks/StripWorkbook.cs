using System.IO.Packaging;
using Acquire.Formats.Strips;

namespace Acquire.Formats.Workbooks;

/// <summary>
/// Strips as a workbook (XLSX, ECMA-376): a sheet of strips with their deviations, plots against date with the limits, and every read. Rows
/// go straight into the stream, however many there are.
/// </summary>
public static class StripWorkbook
{
    /// <summary>How often the strips are run through: for the columns and plots, for the strips, for the reads.</summary>
    public const int Passes = 3;

    private const string Sheet = "spreadsheetml.worksheet+xml";

    /// <summary>Writes the workbook and leaves the stream open. The strips are run through <see cref="Passes"/> times.</summary>
    /// <param name="strips">The strips, in order of time.</param>
    /// <param name="zone">The time zone that times are shown in; a spreadsheet knows none.</param>
    /// <exception cref="ExportException">There are more strips than a sheet has rows.</exception>
    public static async Task WriteAsync(
        IAsyncEnumerable<StripExport> strips, TimeZoneInfo zone, Stream stream, CancellationToken cancellationToken)
    {
        var (columns, plots) = (new DeviationColumns(), new PlotData());
        // The columns of a sheet come before its rows, so every strip must be seen before the first is written.
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            columns.Add(strip);
            plots.Add(strip);
        }

        using var package = new XlsxPackage(stream);
        var sheets = new List<(string Name, PackagePart Part)>();
        await AddAsync("Strips", sheet => StripSheet.WriteAsync(sheet, strips, columns, zone, cancellationToken));
        IReadOnlyList<DeviationChart> charts = [];
        await AddAsync(PlotDataSheet.Name, async sheet => charts = await PlotDataSheet.WriteAsync(sheet, plots, zone));
        await AddAsync("Plots", sheet => PlotsSheetAsync(sheet, charts, plots));
        await DrawAsync(package, sheets[^1].Part, charts);
        // The charts need the cells of their data, so the data is written first and shown behind.
        (sheets[1], sheets[2]) = (sheets[2], sheets[1]);
        await new ReadSheets(zone).WriteAsync(
            strips.Select(s => s.Strip),
            write =>
                AddAsync(sheets.Count == 3 ? "Reads" : string.Create(CultureInfo.InvariantCulture, $"Reads {sheets.Count - 2}"), write),
            cancellationToken);
        await WorkbookXml.WriteAsync(package, sheets);

        async Task AddAsync(string name, Func<SheetWriter, Task> write)
        {
            var path = string.Create(CultureInfo.InvariantCulture, $"/xl/worksheets/sheet{sheets.Count + 1}.xml");
            sheets.Add((name, await package.AddAsync(path, Sheet, xml => write(new SheetWriter(xml)))));
        }
    }

    private static async Task PlotsSheetAsync(SheetWriter sheet, IReadOnlyList<DeviationChart> charts, PlotData plots)
    {
        await sheet.BeginAsync([], frozen: false);
        await sheet.RowAsync([Cell.Text("Deviation from aim against date", CellStyle.Title)]);
        await sheet.RowAsync([Cell.Text(
            charts.Count == 0 ? "No strip has a deviation: their lots have no reference."
            : "Dashed: action limit. Solid: control limit. Each strip keeps the limits it was judged by."
                + (plots.IsCut ? string.Create(CultureInfo.InvariantCulture, $" Plotted are the last {PlotData.MostStrips} strips of "
                    + $"the last {PlotData.MostLines} lines; sheet Strips has all.") : ""))]);
        await sheet.EndAsync(charts.Count == 0 ? null : "rId1");
    }

    private static async Task DrawAsync(XlsxPackage package, PackagePart sheet, IReadOnlyList<DeviationChart> charts)
    {
        if (charts.Count == 0)
        {
            return;
        }

        var parts = new List<PackagePart>();
        foreach (var chart in charts)
        {
            var path = string.Create(CultureInfo.InvariantCulture, $"/xl/charts/chart{parts.Count + 1}.xml");
            parts.Add(await package.AddAsync(path, "drawingml.chart+xml", xml => ChartXml.WriteAsync(xml, chart)));
        }

        var drawing = await package.AddAsync("/xl/drawings/drawing1.xml", "drawing+xml", xml => DrawingXml.WriteAsync(xml, charts));
        foreach (var (index, part) in parts.Index())
        {
            _ = drawing.CreateRelationship(
                part.Uri, TargetMode.Internal, $"{XlsxPackage.Relationships}/chart", DrawingXml.RelationshipId(index));
        }

        _ = sheet.CreateRelationship(drawing.Uri, TargetMode.Internal, $"{XlsxPackage.Relationships}/drawing", "rId1");
    }
}
