using Acquire.Formats.Strips;

namespace Acquire.Formats.Workbooks;

/// <summary>
/// The deviations that a workbook has columns for: every parameter and channel of every process in it, in the order of first meeting.
/// </summary>
internal sealed class DeviationColumns
{
    private readonly Dictionary<(string Process, string Key, Channel? Channel), int> _places = [];

    private readonly List<(string Process, ExportedParameter Parameter)> _all = [];

    public IReadOnlyList<(string Process, ExportedParameter Parameter)> All => _all;

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
