using System.Text;
using Acquire.Rendering.Charts;

namespace Acquire.Rendering;

/// <summary>HTML as it grows, in the form that is well-formed XML too. Every text is escaped.</summary>
internal sealed class HtmlWriter
{
    private readonly StringBuilder _page = new();
    private int _tables;

    /// <summary>A cell: its text, and its class; several lines where the text has line breaks.</summary>
    internal readonly record struct Cell(string Text, string Class = "")
    {
        public static implicit operator Cell(string text) => new(text);

        /// <summary>A number, aligned right.</summary>
        public static Cell Number(string text) => new(text, "n");
    }

    public void Raw(string markup) => _page.Append(markup).Append('\n');

    public void Section(string id, string heading) => Raw($"<h2 id=\"{id}\">{Escape(heading)}</h2>");

    public void Heading(string text) => Raw($"<h3>{Escape(text)}</h3>");

    public void Paragraph(string text, string cls = "") => Raw(cls.Length > 0 ? $"<p class=\"{cls}\">{Escape(text)}</p>" : $"<p>{Escape(text)}</p>");

    public void List(IEnumerable<string> items, bool isOrdered = false)
    {
        var (tag, all) = (isOrdered ? "ol" : "ul", items.ToList());
        if (all.Count > 0)
        {
            Raw($"<{tag}>{string.Concat(all.Select(i => $"<li>{Escape(i)}</li>"))}</{tag}>");
        }
    }

    /// <summary>A table with a caption; the first cell of each row is its heading. It scrolls by itself where a screen is narrow, by keys too.</summary>
    /// <param name="caption">What it shows.</param>
    /// <param name="headings">Headings of the columns.</param>
    /// <param name="rows">The rows, each with the id that links lead to; null for none.</param>
    /// <param name="cls">Its class.</param>
    public void Table(string caption, IReadOnlyList<Cell> headings, IEnumerable<(string? Id, IReadOnlyList<Cell> Cells)> rows, string cls = "")
    {
        var id = string.Create(CultureInfo.InvariantCulture, $"table-{++_tables}");
        Raw($"<div class=\"table\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{id}\"><table{Class(cls)}><caption id=\"{id}\">{Escape(caption)}</caption>");
        Raw($"<thead><tr>{string.Concat(headings.Select(h => $"<th scope=\"col\"{Class(h.Class)}>{Lines(h.Text)}</th>"))}</tr></thead><tbody>");
        foreach (var (rowId, cells) in rows)
        {
            var head = $"<th scope=\"row\"{Class(cells[0].Class)}>{Lines(cells[0].Text)}</th>";
            Raw($"<tr{(rowId is null ? "" : $" id=\"{rowId}\"")}>{head}{string.Concat(cells.Skip(1).Select(c => $"<td{Class(c.Class)}>{Lines(c.Text)}</td>"))}</tr>");
        }

        Raw("</tbody></table></div>");
    }

    public void Table(string caption, IReadOnlyList<Cell> headings, IEnumerable<IReadOnlyList<Cell>> rows) => Table(caption, headings, rows.Select(r => ((string?)null, r)));

    public static string Escape(string text) => SvgDrawing.Escape(text);

    public override string ToString() => _page.ToString();

    private static string Lines(string text) => string.Join("<br/>", text.Split('\n').Select(Escape));

    private static string Class(string cls) => cls.Length > 0 ? $" class=\"{cls}\"" : "";
}
