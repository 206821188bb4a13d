using System.Text;
using System.Text.RegularExpressions;
using System.Xml;

namespace Acquire.Formats.Workbooks;

/// <summary>A column of a sheet.</summary>
/// <param name="Heading">What stands in the first row.</param>
/// <param name="Width">Width in characters.</param>
internal sealed record SheetColumn(string Heading, double Width);

/// <summary>
/// Writes a sheet row by row. Texts are cells of the kind text, so that a spreadsheet never runs one as a formula; times are numbers that
/// it knows as times. The heading stays in view, and the rows can be filtered.
/// </summary>
internal sealed class SheetWriter(XmlWriter xml)
{
    /// <summary>Rows of a sheet with its heading. Source: the limits that spreadsheets state (2 to the power of 20).</summary>
    public const int MostRows = 1_048_576;

    private int _columns;

    /// <summary>Rows written so far, the heading counted in.</summary>
    public int Rows { get; private set; }

    public async Task BeginAsync(IReadOnlyList<SheetColumn> columns, bool frozen = true)
    {
        _columns = columns.Count;
        await xml.WriteStartDocumentAsync();
        await StartAsync("worksheet");
        await StartAsync("sheetPr");
        await EmptyAsync("pageSetUpPr", ("fitToPage", "1"));
        await xml.WriteEndElementAsync();
        await StartAsync("sheetViews");
        await StartAsync("sheetView", ("workbookViewId", "0"));
        if (frozen)
        {
            await EmptyAsync("pane", ("ySplit", "1"), ("topLeftCell", "A2"), ("activePane", "bottomLeft"), ("state", "frozen"));
        }

        await xml.WriteEndElementAsync();
        await xml.WriteEndElementAsync();
        if (columns.Count > 0)
        {
            await StartAsync("cols");
            for (var i = 0; i < columns.Count; i++)
            {
                var width = columns[i].Width.ToString(CultureInfo.InvariantCulture);
                await EmptyAsync("col", ("min", Number(i + 1)), ("max", Number(i + 1)), ("width", width), ("customWidth", "1"));
            }

            await xml.WriteEndElementAsync();
        }

        await StartAsync("sheetData");
        if (columns.Count > 0)
        {
            await RowAsync([.. columns.Select(c => Cell.Text(c.Heading, CellStyle.Heading))]);
        }
    }

    public async Task RowAsync(IReadOnlyList<Cell> cells)
    {
        Rows++;
        await StartAsync("row", ("r", Number(Rows)));
        for (var i = 0; i < cells.Count; i++)
        {
            if (!cells[i].IsEmpty)
            {
                await CellAsync(cells[i], $"{ColumnName(i)}{Number(Rows)}");
            }
        }

        await xml.WriteEndElementAsync();
    }

    /// <summary>Ends the sheet; with the id of a drawing where it has one.</summary>
    public async Task EndAsync(string? drawing = null)
    {
        await xml.WriteEndElementAsync();
        if (_columns > 0)
        {
            await EmptyAsync("autoFilter", ("ref", $"A1:{ColumnName(_columns - 1)}{Number(Math.Max(1, Rows))}"));
        }

        await EmptyAsync("pageSetup", ("orientation", "landscape"), ("fitToHeight", "0"));

        if (drawing is not null)
        {
            await StartAsync("drawing");
            await xml.WriteAttributeStringAsync("r", "id", XlsxPackage.Relationships, drawing);
            await xml.WriteEndElementAsync();
        }

        await xml.WriteEndElementAsync();
    }

    /// <summary>The letters of a column, from 0.</summary>
    public static string ColumnName(int column) => (column >= 26 ? ColumnName((column / 26) - 1) : "") + (char)('A' + (column % 26));

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);

    private async Task CellAsync(Cell cell, string place)
    {
        await StartAsync("c", ("r", place), ("s", Number((int)cell.Style)), ("t", cell.String is null ? "n" : "inlineStr"));
        if (cell.String is { } text)
        {
            await StartAsync("is");
            await xml.WriteStartElementAsync(null, "t", XlsxPackage.Main);
            await xml.WriteAttributeStringAsync("xml", "space", null, "preserve");
            await xml.WriteStringAsync(XlsxText.Of(text));
            await xml.WriteEndElementAsync();
            await xml.WriteEndElementAsync();
        }
        else
        {
            await xml.WriteElementStringAsync(null, "v", XlsxPackage.Main, cell.Value!.Value.ToString("R", CultureInfo.InvariantCulture));
        }

        await xml.WriteEndElementAsync();
    }

    private async Task EmptyAsync(string name, params (string Name, string Value)[] attributes)
    {
        await StartAsync(name, attributes);
        await xml.WriteEndElementAsync();
    }

    private async Task StartAsync(string name, params (string Name, string Value)[] attributes)
    {
        await xml.WriteStartElementAsync(null, name, XlsxPackage.Main);
        foreach (var (attribute, value) in attributes)
        {
            await xml.WriteAttributeStringAsync(null, attribute, null, value);
        }
    }
}

/// <summary>A cell: a text, a number, or nothing.</summary>
internal readonly record struct Cell(string? String, double? Value, CellStyle Style)
{
    public static Cell Empty => default;

    public bool IsEmpty => String is null && Value is null;

    public static Cell Text(string? text, CellStyle style = CellStyle.Plain) => new(string.IsNullOrEmpty(text) ? null : text, null, style);

    public static Cell Number(double? value, CellStyle style = CellStyle.Plain) =>
        value is { } number && double.IsFinite(number) ? new(null, number, style) : Empty;

    /// <summary>A time as calendar and clock of a zone show it; a spreadsheet knows no zones.</summary>
    public static Cell Time(DateTimeOffset at, TimeZoneInfo zone)
    {
        var clock = TimeZoneInfo.ConvertTime(at, zone).DateTime;
        // Some spreadsheets take 1900 for a leap year and others do not, so the numbers of its days differ.
        return clock.Year >= 1901
            ? new(null, clock.ToOADate(), CellStyle.Time)
            : Text(clock.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture));
    }
}

/// <summary>How a cell looks; the numbers are places in <see cref="WorkbookStyles"/>.</summary>
internal enum CellStyle
{
    Plain = 0,
    Heading = 1,
    Time = 2,
    Density = 3,
    Deviation = 4,
    DeviationAction = 5,
    DeviationOut = 6,
    Title = 7,
}

/// <summary>Text as a cell may hold it (ECMA-376 part 1, 22.9.2.19, ST_Xstring): what XML cannot hold becomes <c>_xNNNN_</c>.</summary>
internal static partial class XlsxText
{
    /// <summary>The longest text of a cell, in characters. Source: the limits that spreadsheets state.</summary>
    private const int Longest = 32_767;

    public static string Of(string text)
    {
        var escaped = new StringBuilder();
        foreach (var rune in Likeness().Replace(text, "_x005F_").EnumerateRunes())
        {
            _ = rune.Value is '\t' or '\n' or >= 0x20 and not (0xFFFE or 0xFFFF)
                ? escaped.Append(rune.ToString())
                : escaped.Append(CultureInfo.InvariantCulture, $"_x{rune.Value:X4}_");
        }

        return escaped.Length <= Longest ? escaped.ToString() : escaped.ToString(0, Longest - 1) + "…";
    }

    /// <summary>The underscore of a text that looks like an escape.</summary>
    [GeneratedRegex("_(?=x[0-9A-Fa-f]{4}_)", RegexOptions.CultureInvariant)]
    private static partial Regex Likeness();
}
