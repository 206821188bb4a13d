using Acquire.Formats.Strips;

namespace Acquire.Formats.Workbooks;

/// <summary>The sheet that the charts take their numbers from: a block of rows per process line, a column per series.</summary>
internal static class PlotDataSheet
{
    public const string Name = "Plot data";

    /// <summary>Writes the sheet and gives the charts that can be drawn from it.</summary>
    public static async Task<IReadOnlyList<DeviationChart>> WriteAsync(SheetWriter sheet, PlotData data, TimeZoneInfo zone)
    {
        var series = Series(data);
        await sheet.BeginAsync(
            [new("Process", 9), new("Line", 16), new($"Read ({zone.Id})", 18), .. series.Select(s => new SheetColumn(s.Heading, 13))]);
        var charts = new List<DeviationChart>();
        foreach (var group in data.Groups)
        {
            var first = sheet.Rows + 1;
            foreach (var point in group.Points)
            {
                await sheet.RowAsync(
                [
                    Cell.Text(group.Process),
                    Cell.Text(group.Line),
                    Cell.Time(point.At, zone),
                    .. series.Select(s => Cell.Number(s.Of(point), CellStyle.Deviation)),
                ]);
            }

            charts.AddRange(group.Parameters().Select(p => Chart(group, p, series, first, sheet.Rows)));
        }

        await sheet.EndAsync();
        return charts;
    }

    private static DeviationChart Chart(
        PlotGroup group, PlottedParameter parameter, List<PlotColumn> columns, int first, int last)
    {
        var used = columns.Select((c, i) => (Column: c, Letters: SheetWriter.ColumnName(i + 3)))
            .Where(c => c.Column.Key == parameter.Key && group.Points.Any(p => c.Column.Of(p) is not null));
        return new DeviationChart(
            $"{parameter.Name}, {(group.Line.Length > 0 ? group.Line : group.Process)}",
            parameter.Unit ?? "density",
            $"'{Name}'!$C${first}:$C${last}",
            [.. used.Select(c => new ChartSeries(
                c.Column.Heading, c.Column.Look, $"'{Name}'!${c.Letters}$1", $"'{Name}'!${c.Letters}${first}:${c.Letters}${last}"))]);
    }

    private static List<PlotColumn> Series(PlotData data) =>
    [
        .. from parameter in data.Groups.SelectMany(g => g.Parameters()).GroupBy(p => p.Key)
           let name = parameter.First().Name
           let channels = parameter.SelectMany(p => p.Channels).Distinct().Order().ToList()
           from column in channels.Select(c => Deviation(parameter.Key, name, c))
               .Concat(LimitLines(data, parameter.Key, channels).SelectMany(c => Limits(parameter.Key, name, c)))
           select column,
    ];

    private static PlotColumn Deviation(string key, string name, Channel? channel) => new(
        key,
        channel is { } c ? $"{name} {c.Word()}" : name,
        new SeriesLook(SeriesKind.Deviation, channel),
        point => point.Deviation(key, channel));

    /// <summary>
    /// What limits are drawn for: all channels at once, null, or each for itself as soon as one has limits of its own on any strip.
    /// </summary>
    private static List<Channel?> LimitLines(PlotData data, string key, List<Channel?> channels) =>
        data.Groups.SelectMany(g => g.Points).Any(p => p.JudgedBy.Find(key)?.ChannelLimits.IsEmpty is false) ? channels : [null];

    private static IEnumerable<PlotColumn> Limits(string key, string name, Channel? channel)
    {
        var (what, action, control) = (channel is { } c ? $"{name} {c.Word()}" : name,
            new SeriesLook(SeriesKind.ActionLimit, channel),
            new SeriesLook(SeriesKind.ControlLimit, channel));
        yield return new(key, what + " action, lower", action, p => Of(p)?.Action?.Lower);
        yield return new(key, what + " action, upper", action, p => Of(p)?.Action?.Upper);
        yield return new(key, what + " control, lower", control, p => Of(p)?.Control?.Lower);
        yield return new(key, what + " control, upper", control, p => Of(p)?.Control?.Upper);

        ParameterLimits? Of(PlotPoint point) => point.JudgedBy.Find(key)?.LimitsIn(channel);
    }

    private sealed record PlotColumn(string Key, string Heading, SeriesLook Look, Func<PlotPoint, double?> Of);
}

/// <summary>What the plots are drawn from: the newest strips of each process line, with the limits each was judged by.</summary>
internal sealed class PlotData
{
    /// <summary>How many strips of a line are plotted.</summary>
    public const int MostStrips = 500;

    /// <summary>How many process lines are plotted, those met last.</summary>
    public const int MostLines = 8;

    private readonly List<PlotGroup> _groups = [];

    public IReadOnlyList<PlotGroup> Groups => _groups;

    /// <summary>Whether something was left out for the sake of room.</summary>
    public bool IsCut { get; private set; }

    public void Add(StripExport export)
    {
        if (export.Parameters.All(p => p.Deviation is null))
        {
            return;
        }

        var (process, line) = (export.Strip.JudgedBy.Key, export.Strip.Tags.Line ?? "");
        var group = _groups.FirstOrDefault(g => g.Process == process && string.Equals(g.Line, line, StringComparison.OrdinalIgnoreCase));
        if (group is null)
        {
            group = new PlotGroup(process, line, []);
            _groups.Add(group);
            // Points are held in memory, so their number must not grow with the history.
            if (_groups.Count > MostLines)
            {
                _groups.RemoveAt(0);
                IsCut = true;
            }
        }

        group.Points.Enqueue(PlotPoint.Of(export));
        if (group.Points.Count > MostStrips)
        {
            _ = group.Points.Dequeue();
            IsCut = true;
        }
    }
}

internal sealed record PlotGroup(string Process, string Line, Queue<PlotPoint> Points)
{
    /// <summary>The parameters that its strips have, with their channels.</summary>
    public IEnumerable<PlottedParameter> Parameters() => Points
        .SelectMany(p => p.Deviations)
        .GroupBy(d => d.Key)
        .Select(g => new PlottedParameter(g.Key, g.First().Name, g.First().Unit, [.. g.Select(d => d.Channel).Distinct().Order()]));
}

/// <summary>A parameter that strips of a process line have, with its channels.</summary>
internal sealed record PlottedParameter(string Key, string Name, string? Unit, ImmutableArray<Channel?> Channels);

/// <summary>A strip as it is plotted.</summary>
internal sealed record PlotPoint(DateTimeOffset At, ExportedParameter[] Deviations, ProcessSheet JudgedBy)
{
    public static PlotPoint Of(StripExport export) => new(
        export.Strip.Provenance.At,
        [.. export.Parameters.Where(p => p.Deviation is not null)],
        export.Strip.JudgedBy);

    public double? Deviation(string key, Channel? channel) =>
        Deviations.FirstOrDefault(d => d.Key == key && d.Channel == channel)?.Deviation;
}
