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

    public static Table Of(Rows rows)
    {
        var table = New(rows.Headings);
        foreach (var cells in rows.Cells)
        {
            table.Row(cells);
        }

        return table;
    }

    /// <summary>A list: for programs as JSON; for people a line each, or how to begin where there is nothing yet.</summary>
    public static void WriteList<T>(
        this IAnsiConsole console,
        IReadOnlyCollection<T> items,
        bool json,
        Func<T, object> row,
        string none,
        string[] headings,
        Func<T, string[]> cells)
    {
        if (json)
        {
            JsonOutput.Write(console, items.Select(row));
        }
        else if (items.Count == 0)
        {
            console.Line(none);
        }
        else
        {
            console.WriteTable(Of(new Rows(headings, items.Select(cells))));
        }
    }

    public static void Row(this Table table, params IEnumerable<string> cells) => table.AddRow(cells.Select(c => new Text(c)));

    /// <summary>
    /// Writes a table: to a terminal in blocks that fit, to a file or pipe as wide as it is and without the blanks at the ends of its
    /// lines.
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

        // The library fits a table to the console's width, and in a file cut cells would be lost: it is drawn as wide as it needs.
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

/// <summary>A table before it is drawn, for terminal and page alike.</summary>
/// <param name="Cells">The rows, a text for each column.</param>
internal sealed record Rows(string[] Headings, IEnumerable<string[]> Cells);

/// <summary>Tables that are wider than the terminal: rather a second block below than columns that are cut, broken or gone.</summary>
internal static class TableBlocks
{
    /// <summary>Left of a table stands one blank, and between its columns, and at their ends, three.</summary>
    private const int Edge = 1, Between = 3;

    /// <summary>How far a column that may wrap is narrowed, unless a word of it is longer.</summary>
    private const int Narrowest = 14;

    /// <summary>How many columns are tried as the name of a row.</summary>
    private const int LongestName = 2;

    /// <summary>The width a table needs, in characters.</summary>
    public static int Width(Table table, RenderOptions options) => Edge + Needs(table, options).Sum();

    /// <summary>The table, or blocks of its columns that fit, each led by the columns that name the rows.</summary>
    public static IEnumerable<Table> Fit(Table table, RenderOptions options, int width)
    {
        var needs = Needs(table, options);
        if (Edge + needs.Sum() <= width || table.Rows.Count == 0)
        {
            return [table];
        }

        var names = Enumerable.Range(0, NameColumns(table, options)).ToList();
        var room = width - Edge - names.Sum(c => needs[c]);
        var blocks = new List<List<int>>();
        var left = 0;
        foreach (var column in Enumerable.Range(names.Count, needs.Length - names.Count))
        {
            if (blocks.Count == 0 || needs[column] > left)
            {
                blocks.Add([.. names]);
                left = room;
            }

            blocks[^1].Add(column);
            left -= needs[column];
        }

        return blocks.Select(b => Only(table, b));
    }

    private static int[] Needs(Table table, RenderOptions options) =>
        [.. table.Columns.Select((column, i) => Between + Need(column, [column.Header, .. table.Rows.Select(r => r[i])], options))];

    private static int Need(TableColumn column, IReadOnlyList<IRenderable> cells, RenderOptions options)
    {
        var sizes = cells.Select(c => c.Measure(options, int.MaxValue)).ToList();
        var whole = sizes.Max(s => s.Max);
        return column.NoWrap ? whole : Math.Max(sizes.Max(s => s.Min), Math.Min(whole, Narrowest));
    }

    // Where the first column repeats itself, as the patch does with a row for each channel, the second belongs to the name.
    private static int NameColumns(Table table, RenderOptions options) =>
        Enumerable.Range(1, Math.Min(LongestName, table.Columns.Count - 1))
            .FirstOrDefault(n => table.Rows.Select(r => string.Join('\t', r.Take(n).Select(c => Said(c, options)))).Distinct().Count()
                == table.Rows.Count, 1);

    private static string Said(IRenderable cell, RenderOptions options) =>
        string.Concat(cell.Render(options, int.MaxValue).Select(s => s.Text));

    private static Table Only(Table table, List<int> columns)
    {
        var block = new Table { Border = table.Border, ShowRowSeparators = table.ShowRowSeparators };
        foreach (var column in columns)
        {
            block.AddColumn(table.Columns[column]);
        }

        foreach (var row in table.Rows)
        {
            block.AddRow(columns.Select(c => row[c]));
        }

        return block;
    }
}
