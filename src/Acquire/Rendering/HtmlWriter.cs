using System.Net;
using System.Text;

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

    public void Paragraph(string text, string cls = "") =>
        Raw(cls.Length > 0 ? $"<p class=\"{cls}\">{Escape(text)}</p>" : $"<p>{Escape(text)}</p>");

    public void List(IEnumerable<string> items, bool isOrdered = false)
    {
        var (tag, all) = (isOrdered ? "ol" : "ul", items.ToList());
        if (all.Count > 0)
        {
            Raw($"<{tag}>{string.Concat(all.Select(i => $"<li>{Escape(i)}</li>"))}</{tag}>");
        }
    }

    /// <summary>
    /// A table with a caption; the first cell of each row is its heading. It scrolls by itself where a screen is narrow, by keys too.
    /// </summary>
    /// <param name="rows">The rows, each with the id that links lead to; null for none.</param>
    public void Table(
        string caption, IReadOnlyList<Cell> headings, IEnumerable<(string? Id, IReadOnlyList<Cell> Cells)> rows, string cls = "")
    {
        var id = string.Create(CultureInfo.InvariantCulture, $"table-{++_tables}");
        Raw($"<div class=\"table\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{id}\"><table{Class(cls)}><caption "
            + $"id=\"{id}\">{Escape(caption)}</caption>");
        Raw("<thead><tr>");
        Raw(string.Concat(headings.Select(h => $"<th scope=\"col\"{Class(h.Class)}>{Lines(h.Text)}</th>")));
        Raw("</tr></thead><tbody>");
        foreach (var (rowId, cells) in rows)
        {
            var head = $"<th scope=\"row\"{Class(cells[0].Class)}>{Lines(cells[0].Text)}</th>";
            var rest = string.Concat(cells.Skip(1).Select(c => $"<td{Class(c.Class)}>{Lines(c.Text)}</td>"));
            Raw($"<tr{(rowId is null ? "" : $" id=\"{rowId}\"")}>{head}{rest}</tr>");
        }

        Raw("</tbody></table></div>");
    }

    /// <summary>The same table as at a terminal, its numbers aligned right.</summary>
    public void Table(string caption, Rows rows) => Table(
        caption,
        [.. rows.Headings.Select((h, i) => i == 0 ? h : Cell.Number(h))],
        rows.Cells.Select(r => (IReadOnlyList<Cell>)[.. r.Select((c, i) => i == 0 ? c : Cell.Number(c))]));

    public void Table(string caption, IReadOnlyList<Cell> headings, IEnumerable<IReadOnlyList<Cell>> rows) =>
        Table(caption, headings, rows.Select(r => ((string?)null, r)));

    /// <summary>Text without what would be markup, or what XML cannot hold.</summary>
    public static string Escape(string text) =>
        WebUtility.HtmlEncode(
            string.Concat(text.EnumerateRunes().Select(r => r.Value < 0x20 || r.Value is 0xFFFE or 0xFFFF ? " " : r.ToString())));

    /// <summary>The page around what was written: it needs nothing else, no scripts, no other files, nothing fetched.</summary>
    /// <param name="paper">Size of the paper, as CSS names it; null for whatever the printer has.</param>
    public string Page(string title, string? paper = null) => string.Join(
        '\n',
        "<!DOCTYPE html>",
        "<html xmlns=\"http://www.w3.org/1999/xhtml\" lang=\"en\" xml:lang=\"en\"><head><meta charset=\"utf-8\"/><meta "
        + "name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>",
        $"<title>{Escape(title)}</title><style>\n{PageStyle.Sheet}\n"
                + $"{(paper is null ? "" : $"@page {{ size: {paper} }}\n")}</style></head><body>",
        _page + "</body></html>",
        "");

    private static string Lines(string text) => string.Join("<br/>", text.Split('\n').Select(Escape));

    private static string Class(string cls) => cls.Length > 0 ? $" class=\"{cls}\"" : "";
}

/// <summary>The style of every page: light or dark as the screen is set, always light on paper, any paper size.</summary>
internal static class PageStyle
{
    private const string Light =
        "--paper:#fff;--ink:#1a1a1a;--soft:#555;--line:#bbb;--shade:#f3f1ec;--good:#0b6b3a;--look:#8a5200;--stop:#a8141b;--link:#0b4f9e;";
    private const string Dark =
        "--paper:#14161a;--ink:#eee;--soft:#b5b5b5;--line:#4a505a;--shade:#1d2128;"
        + "--good:#6fd39b;--look:#f0b45a;--stop:#ff8f8f;--link:#8fc1ff;";

    public const string Sheet =
        $$"""
        :root { {{Light}} color-scheme: light dark }
        @media (prefers-color-scheme: dark) { :root { {{Dark}} } }
        * { box-sizing: border-box }
        body { font: 15px/1.5 system-ui, "DejaVu Sans", sans-serif; max-width: 62rem; margin: 1.5rem auto; padding: 0 1rem; color: var(--ink); background: var(--paper); overflow-wrap: break-word }
        h1 { font-size: 1.45rem; line-height: 1.25; margin: 0 } h2 { font-size: 1.15rem; margin: 2rem 0 .5rem; border-bottom: 2px solid var(--line); padding-bottom: .2rem } h3 { font-size: 1rem; margin: 1.2rem 0 .3rem }
        p { margin: .4rem 0 } .soft { color: var(--soft) } a { color: var(--link) } nav ul { padding: 0; list-style: none; display: flex; flex-wrap: wrap; gap: .2rem 1rem }
        .verdict { font-size: 1.1rem; font-weight: 600; border: 2px solid; border-left-width: .6rem; padding: .6rem .9rem; margin: 1rem 0 }
        .good { color: var(--good) } .look { color: var(--look) } .stop { color: var(--stop) } td.look, td.stop, b.look, b.stop { font-weight: 600 }
        .table { overflow-x: auto } table { border-collapse: collapse; width: 100%; margin: .4rem 0 .8rem } caption { text-align: left; font-weight: 600; padding: .3rem 0 }
        th, td { text-align: left; padding: .2rem .6rem .2rem 0; border-bottom: 1px solid var(--line); vertical-align: top } th { font-weight: 600 } thead th { border-bottom: 2px solid var(--line) }
        td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap } tbody th { font-weight: 400 }
        .keep { white-space: nowrap } .said { min-width: 13rem }
        .data { font-size: .85rem } .data td, .data th { white-space: nowrap } .data tr:target { background: var(--shade) }
        .box { border: 1px solid var(--line); background: var(--shade); padding: .5rem .9rem } li { margin: .15rem 0 }
        .chart svg { width: 100%; height: auto; display: block } .chart .small-screen { display: none }
        @media (max-width: 600px) { body { padding: 0 .6rem } .chart .small-screen { display: block } .chart .wide-screen { display: none } }
        @page { margin: 14mm; @bottom-right { content: counter(page) " / " counter(pages); font: 9pt sans-serif; color: #555 } }
        @media print {
          :root { {{Light}} color-scheme: light }
          body { font-size: 10pt; margin: 0; padding: 0; max-width: none } nav { display: none } a { color: inherit; text-decoration: none }
          h2, h3, caption { break-after: avoid } tr, li, .box, .verdict { break-inside: avoid } thead { display: table-header-group } .table { overflow: visible }
          .chart .wide-screen { display: block } .chart .small-screen { display: none } .chart svg { max-height: 235mm; break-inside: avoid }
          .data { font-size: 7.5pt } .data td, .data th { padding-right: .35rem }
        }
        """;
}
