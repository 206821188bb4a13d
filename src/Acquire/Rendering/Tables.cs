using Spectre.Console;
using Spectre.Console.Rendering;

namespace Acquire.Rendering;

/// <summary>The one look that all tables share: no frame, a rule under the headings.</summary>
internal static class Tables
{
    public static Table New(params ReadOnlySpan<string> headings)
    {
        var table = new Table { Border = TableBorder.Simple, ShowRowSeparators = false };
        foreach (var heading in headings)
        {
            table.AddColumn(new TableColumn(Markup.Escape(heading)) { NoWrap = true });
        }

        return table;
    }

    public static void Row(this Table table, params IEnumerable<string> cells) => table.AddRow(cells.Select(c => new Text(c)));

    /// <summary>
    /// Writes a table: to a terminal in blocks that fit, to a file or pipe as wide as it is and without the blanks at the ends of its lines.
    /// </summary>
    public static void WriteTable(this IAnsiConsole console, Table table)
    {
        if (console.Profile.Capabilities.Ansi)
        {
            foreach (var block in TableBlocks.Fit(table, RenderOptions.Create(console), console.Profile.Width))
            {
                console.Write(block);
            }

            return;
        }

        using var writer = new StringWriter();
        var plain = Surroundings.Make(writer, redirected: true);
        plain.Profile.Width = Math.Max(plain.Profile.Width, TableBlocks.Width(table, RenderOptions.Create(plain)));
        plain.Write(table);
        foreach (var line in writer.ToString().Split('\n').Select(l => l.TrimEnd()).SkipLast(1))
        {
            console.Line(line);
        }
    }
}
