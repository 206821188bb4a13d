using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

/// <summary>The places of a chart on the columns of a terminal, and what is written above and below the panels.</summary>
/// <param name="Model">The chart.</param>
/// <param name="Columns">How many columns the plot has.</param>
internal sealed record TextAxis(ChartModel Model, int Columns)
{
    /// <summary>Columns left of every plot.</summary>
    public const int Gutter = 8;

    /// <summary>The column of a place, with the gutter.</summary>
    public int Column(double x) => Gutter + (int)Math.Round(Math.Clamp(Model.Range.Share(x), 0, 1) * (Columns - 1));

    /// <summary>Lots and events above the panels.</summary>
    public TextGrid Heading()
    {
        var rows = (Model.Lots.IsEmpty ? 0 : 1) + (Model.Events.IsEmpty ? 0 : 1);
        var grid = new TextGrid(Gutter + Columns, rows);
        var row = 0;
        if (!Model.Lots.IsEmpty)
        {
            grid.Text(0, row, "lot");
            foreach (var band in Model.Lots)
            {
                var (from, to) = (Column(band.From), Column(band.To));
                grid.Text(from, row, new string('─', Math.Max(0, to - from)), "grey");
                grid.Put(from, row, band == Model.Lots[0] ? '─' : '├', "grey");
                if (band.Lot.Length + 2 <= to - from)
                {
                    grid.Text(from + 1, row, $" {band.Lot} ");
                }
            }

            row++;
        }

        if (!Model.Events.IsEmpty)
        {
            grid.Text(0, row, "events");
            var free = 0;
            foreach (var mark in Model.Events)
            {
                var number = mark.Number.ToString(CultureInfo.InvariantCulture);
                var at = Math.Max(Column(mark.X), free);
                grid.Text(at, row, number);
                free = at + number.Length + 1;
            }
        }

        return grid;
    }

    /// <summary>The line under a plot, with its labels; a label that would touch another is left out.</summary>
    public void Foot(TextGrid grid, int row)
    {
        grid.Put(Gutter - 1, row, '└', "grey");
        grid.Text(Gutter, row, new string('─', Columns), "grey");
        var most = Math.Max(2, Columns / (Model.Axis == ChartAxis.Date ? 11 : 8));
        foreach (var tick in ChartTicks.Of(Model.Axis, Model.Range, most))
        {
            var column = Column(tick.At);
            grid.Put(column, row, '┴', "grey");
            var from = Math.Clamp(column - (tick.Label.Length / 2), 0, grid.Columns - tick.Label.Length);
            if (grid.IsFree(from - 1, row + 1, tick.Label.Length + 2))
            {
                grid.Text(from, row + 1, tick.Label);
            }
        }
    }
}
