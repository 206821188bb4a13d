using Acquire.Formats.Strips;

namespace Acquire.Formats.Workbooks;

/// <summary>The sheet with a row per strip: when, which, in which zone, and every deviation.</summary>
internal static class StripSheet
{
    public static async Task WriteAsync(
        SheetWriter sheet, IAsyncEnumerable<StripExport> strips, DeviationColumns deviations, TimeZoneInfo zone,
        CancellationToken cancellationToken)
    {
        await sheet.BeginAsync(
        [
            new($"Read ({zone.Id})", 18), new("Process", 9), new("Lot", 10), .. Texts(t => t.IsPlace, 16), new("Zone", 9),
            new("Past a limit", 36), .. deviations.Columns(), new("Read by", 18), .. Texts(t => !t.IsPlace, 30),
            new("Strip", 38), new("Rests on an assumed", 24), new("Instrument", 18),
        ]);
        await foreach (var export in strips.WithCancellation(cancellationToken))
        {
            var strip = export.Strip;
            await sheet.RowAsync(
            [
                Cell.Time(strip.Provenance.At, zone),
                Cell.Text(strip.JudgedBy.Key),
                Cell.Text(strip.LotCode),
                .. Cells(strip, t => t.IsPlace),
                Cell.Text(export.Parameters.Max(p => p.Zone) is { } worst ? Words<Zone>.Of(worst) : "no limit"),
                Cell.Text(string.Join("; ", Past(export))),
                .. deviations.Cells(export),
                Cell.Text(strip.Provenance.By),
                .. Cells(strip, t => !t.IsPlace),
                Cell.Text(Written.Id(strip.Id)),
                Cell.Text(Assumed(export)),
                Cell.Text(strip.Provenance.Instrument?.Name),
            ]);
            if (sheet.Rows == SheetWriter.MostRows)
            {
                throw new ExportException(
                    $"A sheet has room for {SheetWriter.MostRows - 1} strips, and there are more. "
                    + "Choose some with --since, --last or --lot, or export CSV.");
            }
        }

        await sheet.EndAsync();
    }

    private static IEnumerable<SheetColumn> Texts(Func<TextTag, bool> which, int width) =>
        StripTags.InTables.Where(which).Select(
            t => new SheetColumn(char.ToUpperInvariant(t.Name[0]) + t.Name[1..].Replace('_', ' '), width));

    private static IEnumerable<Cell> Cells(StripRecord strip, Func<TextTag, bool> which) =>
        StripTags.InTables.Where(which).Select(t => Cell.Text(t.Of(strip.Tags)));

    /// <summary>What the strip's uncertainties rest on that was assumed, each once.</summary>
    private static string Assumed(StripExport export) => string.Join(" and ", export.Parameters
        .SelectMany(p => p.RestsOnAssumption?.Split(" and ") ?? []).Distinct().Order(StringComparer.Ordinal));

    private static IEnumerable<string> Past(StripExport export) => export.Parameters
        .Where(p => p.Zone is Zone.Action or Zone.Out)
        .OrderByDescending(p => p.Zone)
        .Select(p => $"{DeviationColumns.Name(p)} {Words<Zone>.Of(p.Zone!.Value)}");
}

/// <summary>
/// The deviations that a workbook has columns for: every parameter and channel of every process in it, in the order of first meeting.
/// </summary>
internal sealed class DeviationColumns
{
    private readonly Dictionary<(string Process, string Key, Channel? Channel), int> _places = [];

    private readonly List<(string Process, ExportedParameter Parameter)> _all = [];

    public void Add(StripExport export)
    {
        foreach (var parameter in export.Parameters)
        {
            if (_places.TryAdd(Key(export, parameter), _all.Count))
            {
                _all.Add((export.Strip.JudgedBy.Key, parameter));
            }
        }
    }

    /// <summary>Headings; the process is named where there is more than one.</summary>
    public IEnumerable<SheetColumn> Columns()
    {
        var one = _all.Select(p => p.Process).Distinct().Count() <= 1;
        return _all.Select(p => new SheetColumn((one ? "" : p.Process + " ") + Name(p.Parameter), 11));
    }

    public Cell[] Cells(StripExport export)
    {
        var cells = new Cell[_all.Count];
        foreach (var parameter in export.Parameters)
        {
            if (_places.TryGetValue(Key(export, parameter), out var place))
            {
                cells[place] = Cell.Number(parameter.Deviation, Style(parameter.Zone));
            }
        }

        return cells;
    }

    public static string Name(ExportedParameter parameter) =>
        parameter.Channel is { } channel ? $"{parameter.Name} {channel.Word()}" : parameter.Name;

    private static CellStyle Style(Zone? zone) => zone switch
    {
        Zone.Action => CellStyle.DeviationAction,
        Zone.Out => CellStyle.DeviationOut,
        _ => CellStyle.Deviation,
    };

    private static (string Process, string Key, Channel? Channel) Key(StripExport export, ExportedParameter parameter) =>
        (export.Strip.JudgedBy.Key, parameter.Key, parameter.Channel);
}
