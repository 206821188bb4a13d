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
