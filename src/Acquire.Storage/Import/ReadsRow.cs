namespace Acquire.Storage.Import;

/// <summary>One row of cells on its way to a read.</summary>
internal sealed record ReadsRow(string[] Cells, ReadsHeading Heading, FilePlace Place, char Separator)
{
    /// <summary>Larger numbers are a slip whatever they measure.</summary>
    private const decimal Largest = 1_000_000;

    public ImportedRead ToRead() => new(
        Place.File,
        LineWithoutMoreCells(),
        Text(Heading.Patch, "patch", "ld"),
        int.TryParse(Text(Heading.Read, "read", "1"), NumberStyles.None, CultureInfo.InvariantCulture, out var read)
            ? read
            : throw Place.Wrong($"read is '{FilePlace.Shown(Cell(Heading.Read))}'; expected a whole number such as 1"),
        Heading.Placement is { } column ? Text(column, "placement", "1") : null,
        Values().ToImmutableSortedDictionary());

    private IEnumerable<KeyValuePair<Channel, decimal>> Values()
    {
        foreach (var (channel, column) in Heading.Channels)
        {
            var cell = Cell(column);

            // Many files have a visual column beside the colours that some rows leave empty; any other number that is missing is a slip.
            if (cell.Length > 0 || channel != Channel.Visual || Heading.Channels.Count == 1)
            {
                yield return KeyValuePair.Create(channel, Value(cell, channel));
            }
        }
    }

    // 0,45 between commas makes two cells: the numbers behind it would stand in the wrong columns.
    private int LineWithoutMoreCells() => Cells.Skip(Heading.Columns).All(string.IsNullOrWhiteSpace)
        ? Place.Line
        : throw Place.Wrong(
            $"the row has {Cells.Length} cells, the heading {Heading.Columns}; expected a cell per column (with decimal commas, separate the cells by semicolons)");

    private string Cell(int column) => column < Cells.Length ? Cells[column].Trim() : "";

    private string Text(int column, string name, string example) => Cell(column) is { Length: > 0 } text
        ? text
        : throw Place.Wrong($"{name} is empty; expected a word or number such as {example}");

    private decimal Value(string cell, Channel channel)
    {
        const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        var text = Separator == ';' ? cell.Replace(',', '.') : cell;
        return decimal.TryParse(text, Style, CultureInfo.InvariantCulture, out var value) && Math.Abs(value) <= Largest
            ? value
            : throw Place.Wrong($"{channel.Word()} is {(cell.Length == 0 ? "empty" : $"'{FilePlace.Shown(cell)}'")}; expected a density such as 0.26");
    }
}
