using System.Text;
using Acquire.Analysis.Charts;

namespace Acquire.Rendering.Charts;

/// <summary>Letters on squared paper, each with a colour that only underlines what the letter says.</summary>
internal sealed class TextGrid(int columns, int rows)
{
    private readonly (char Letter, string Style)[,] _cells = Blank(columns, rows);

    public int Columns => columns;

    public void Put(int column, int row, char letter, string style = "")
    {
        if (column >= 0 && column < columns && row >= 0 && row < rows)
        {
            _cells[column, row] = (letter, style);
        }
    }

    public void Text(int column, int row, string text, string style = "")
    {
        for (var i = 0; i < text.Length; i++)
        {
            Put(column + i, row, text[i], style);
        }
    }

    /// <summary>Whether a stretch of a row is blank.</summary>
    public bool IsFree(int column, int row, int length) =>
        Enumerable.Range(column, length).All(c => c < 0 || c >= columns || _cells[c, row].Letter == ' ');

    public void Write(IAnsiConsole console)
    {
        for (var row = 0; row < rows; row++)
        {
            if (console.Profile.Capabilities.Ansi)
            {
                console.MarkupLine(Markup(row));
            }
            else
            {
                console.Line(Plain(row));
            }
        }
    }

    private string Plain(int row) => new string([.. Enumerable.Range(0, columns).Select(c => _cells[c, row].Letter)]).TrimEnd();

    private string Markup(int row)
    {
        var line = new StringBuilder();
        for (int from = 0, to; from < columns; from = to)
        {
            var style = _cells[from, row].Style;
            to = from;
            while (to < columns && _cells[to, row].Style == style)
            {
                to++;
            }

            var text = Spectre.Console.Markup.Escape(new string([.. Enumerable.Range(from, to - from).Select(c => _cells[c, row].Letter)]));
            line.Append(style.Length == 0 ? text : $"[{style}]{text}[/]");
        }

        return line.ToString();
    }

    private static (char, string)[,] Blank(int columns, int rows)
    {
        var cells = new (char, string)[columns, rows];
        for (var c = 0; c < columns; c++)
        {
            for (var r = 0; r < rows; r++)
            {
                cells[c, r] = (' ', "");
            }
        }

        return cells;
    }
}

/// <summary>The places of a chart on the columns of a terminal, and what is written above and below the panels.</summary>
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
