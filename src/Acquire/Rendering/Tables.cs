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

    /// <summary>Writes a table with its blank edges taken off.</summary>
    public static void WriteTable(this IAnsiConsole console, Table table) => console.Write(table);
}
