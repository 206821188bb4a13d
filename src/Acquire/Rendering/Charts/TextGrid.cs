using System.Text;

namespace Acquire.Rendering.Charts;

/// <summary>Letters on squared paper, each with a colour that only underlines what the letter says.</summary>
internal sealed class TextGrid(int columns, int rows)
{
    private readonly (char Letter, string Style)[,] _cells = Blank(columns, rows);

    public int Columns => columns;

    public char this[int column, int row] => _cells[column, row].Letter;

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
