using Acquire.Hosting;
using Acquire.Terminal;
using Spectre.Console;

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

    /// <summary>Writes a table; to a file or pipe without the blanks at the ends of its lines.</summary>
    public static void WriteTable(this IAnsiConsole console, Table table)
    {
        if (console.Profile.Capabilities.Ansi)
        {
            console.Write(table);
            return;
        }

        using var writer = new StringWriter();
        var plain = Surroundings.Make(writer, redirected: true);
        plain.Write(table);
        foreach (var line in writer.ToString().Split('\n').Select(l => l.TrimEnd()).SkipLast(1))
        {
            console.Line(line);
        }
    }
}
