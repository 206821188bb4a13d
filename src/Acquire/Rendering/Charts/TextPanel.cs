using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

/// <summary>
/// One panel in letters: a letter a channel, a figure where so many lie at one place, and the zone of each strip underneath.
/// </summary>
internal static class TextPanel
{
    private const int LeastRows = 9, MostRows = 21;

    /// <summary>Columns right of the plot: a bracket a channel, and what the limits are called.</summary>
    public static int RightGutter(ChartModel model) => 12 + ChartWords.RoomForLetters(model);

    public static TextGrid Of(ChartPanel panel, TextAxis axis)
    {
        // A hundredth and a half of density to a row tells limits apart that are two hundredths from each other.
        var rows = (int)Math.Clamp(Math.Ceiling(panel.Range.Width / 0.015) + 1, LeastRows, MostRows);
        var grid = new TextGrid(TextAxis.Gutter + axis.Columns + RightGutter(axis.Model), rows + 3);
        int Row(double y) => (int)Math.Round((1 - panel.Range.Share(y)) * (rows - 1));

        // What is put later covers what is there, so that points come after limits and marks.
        Scale(grid, panel, axis, Row, rows);
        Limits(grid, panel, axis, Row);
        Uprights(grid, panel, axis, rows);
        Points(grid, panel, axis, Row);
        Natural(grid, panel, axis, Row);
        Zones(grid, panel, axis, rows);
        axis.Foot(grid, rows + 1);
        return grid;
    }

    private static void Scale(TextGrid grid, ChartPanel panel, TextAxis axis, Func<double, int> row, int rows)
    {
        for (var r = 0; r < rows; r++)
        {
            grid.Put(TextAxis.Gutter - 1, r, '│', "grey");
        }

        grid.Text(TextAxis.Gutter, row(0), new string('·', axis.Columns), "grey");
        foreach (var tick in ChartTicks.Numbers(panel.Range, Math.Max(3, rows / 3)))
        {
            Label(grid, row(tick.At), tick.At > 0 && panel.Parameter.HasSign ? "+" + tick.Label : tick.Label);
        }
    }

    private static void Limits(TextGrid grid, ChartPanel panel, TextAxis axis, Func<double, int> row)
    {
        foreach (var limit in panel.Limits.OrderBy(l => l.Kind))
        {
            var isControl = limit.Kind == ChartLimitKind.Control;
            for (var c = axis.Column(limit.From); c <= axis.Column(limit.To); c++)
            {
                if (isControl || c % 2 == 0)
                {
                    grid.Put(c, row(limit.Value), isControl ? '═' : '-', limit.Channels is [var only] ? Style(only) : "grey");
                }
            }

            if (limit.To >= axis.Model.Range.High)
            {
                Label(grid, row(limit.Value), ChartWords.Limit(limit.Value));
                grid.Text(
                    TextAxis.Gutter + axis.Columns + 5, row(limit.Value), ChartWords.Name(limit).PadRight(RightGutter(axis.Model) - 5));
            }
        }
    }

    /// <summary>Crossovers, events, and where movements began.</summary>
    private static void Uprights(TextGrid grid, ChartPanel panel, TextAxis axis, int rows)
    {
        for (var r = 0; r < rows; r++)
        {
            foreach (var band in axis.Model.Lots.Skip(1))
            {
                grid.Put(axis.Column(band.From), r, ':', "grey");
            }

            foreach (var mark in axis.Model.Events)
            {
                grid.Put(axis.Column(mark.X), r, '╎', "grey");
            }
        }

        foreach (var mark in panel.Findings)
        {
            grid.Text(axis.Column(mark.X), 0, mark.Letter, "bold");
        }
    }

    private static void Points(TextGrid grid, ChartPanel panel, TextAxis axis, Func<double, int> row)
    {
        var columns = panel.Lines.SelectMany(l => l.Points).Select(p => axis.Column(p.X)).Distinct().Order().ToList();
        var least = columns.Zip(columns.Skip(1), (a, b) => b - a).DefaultIfEmpty(int.MaxValue).Min();
        var isRoomy = panel.Lines.Length > 1 && least >= 4;
        var taken = new Dictionary<(int, int), int>();
        foreach (var line in panel.Lines.Where(_ => isRoomy || (panel.Lines.Length == 1 && least >= 2)))
        {
            foreach (var point in line.Points)
            {
                for (var r = row(panel.Range.Clamp(point.Upper)); r <= row(panel.Range.Clamp(point.Lower)); r++)
                {
                    grid.Put(axis.Column(point.X) + Shift(line, isRoomy), r, '│', Style(line.Channel));
                }
            }
        }

        foreach (var line in panel.Lines)
        {
            foreach (var point in line.Points)
            {
                var at = (axis.Column(point.X) + Shift(line, isRoomy), row(point.Deviation));
                var count = taken[at] = taken.GetValueOrDefault(at) + 1;
                var letter =
                    count == 1 ? ChartLook.Of(line.Channel).Letter[0] : count > 9 ? '+' : count.ToString(CultureInfo.InvariantCulture)[0];
                grid.Put(at.Item1, at.Item2, letter, count == 1 ? Style(line.Channel) : "bold");
            }
        }
    }

    /// <summary>Natural limits as brackets beside the plot, one a channel.</summary>
    private static void Natural(TextGrid grid, ChartPanel panel, TextAxis axis, Func<double, int> row)
    {
        var column = TextAxis.Gutter + axis.Columns + 1;
        foreach (var line in panel.Lines)
        {
            if (panel.NaturalOf(line) is { } natural)
            {
                var (top, bottom) = (row(natural.Upper), row(natural.Lower));
                for (var r = top; r <= bottom; r++)
                {
                    grid.Put(column, r, top == bottom ? '╴' : r == top ? '┐' : r == bottom ? '┘' : '│', Style(line.Channel));
                }
            }

            column++;
        }
    }

    private static void Zones(TextGrid grid, ChartPanel panel, TextAxis axis, int row)
    {
        grid.Text(0, row, "zone");
        foreach (var strips in panel.Lines.SelectMany(l => l.Points).GroupBy(p => axis.Column(p.X)))
        {
            var (letter, style) = strips.Max(p => p.Zone) switch
            {
                Zone.Inside => ('.', ""),
                Zone.Action => ('A', "yellow bold"),
                Zone.Out => ('O', "red bold"),
                _ => ('?', ""),
            };
            grid.Put(strips.Key, row, letter, style);
        }
    }

    private static void Label(TextGrid grid, int row, string text) => grid.Text(0, row, text.PadLeft(TextAxis.Gutter - 1));

    private static int Shift(ChartLine line, bool isRoomy) => isRoomy ? Math.Sign(ChartLook.Of(line.Channel).Shift) : 0;

    private static string Style(Channel? channel) => channel switch
    {
        Channel.Red => "red",
        Channel.Green => "green",
        Channel.Blue => "deepskyblue1",
        _ => "",
    };
}
