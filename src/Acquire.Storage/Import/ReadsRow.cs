using System.Globalization;
using Acquire.Domain.Densitometry;

namespace Acquire.Storage.Import;

/// <summary>One row of cells on its way to a read.</summary>
internal sealed record ReadsRow(string[] Cells, ReadsHeading Heading, FilePlace Place, char Separator)
{
    public ImportedRead ToRead() => new(
        Place.Line,
        Text(Heading.Patch, "patch", "ld"),
        Text(Heading.Read, "read", "1"),
        Heading.Placement is { } column ? Text(column, "placement", "1") : null,
        ChannelDensities.Of(Densities()));

    private IEnumerable<KeyValuePair<Channel, Density>> Densities()
    {
        foreach (var (channel, column) in Heading.Channels)
        {
            var cell = Cell(column);

            // Many files have a visual column that some rows leave empty; a colour that is missing is a slip.
            if (cell.Length > 0 || channel != Channel.Visual)
            {
                yield return KeyValuePair.Create(channel, Value(cell, channel));
            }
        }
    }

    private string Cell(int column) => column < Cells.Length ? Cells[column].Trim() : "";

    private string Text(int column, string name, string example) => Cell(column) is { Length: > 0 } text
        ? text
        : throw Place.Wrong($"{name} is empty; expected a word or number such as {example}");

    private Density Value(string cell, Channel channel)
    {
        var text = Separator == ';' ? cell.Replace(',', '.') : cell;
        return Read(text) ?? throw Place.Wrong(
            $"{channel.Word()} is {(cell.Length == 0 ? "empty" : $"'{FilePlace.Shown(cell)}'")}; expected a density such as 0.26, "
            + $"between {Density.Least} and {Density.Largest}");
    }

    /// <summary>
    /// Digits as they are up to six decimals. More of them no instrument shows: a computer has counted with the number, and its sixth is
    /// as good.
    /// </summary>
    private static Density? Read(string text)
    {
        if (Density.TryParse(text, out var density))
        {
            return density;
        }

        const NumberStyles Style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
        return decimal.TryParse(text, Style, CultureInfo.InvariantCulture, out var value)
            && Density.TryParse(Math.Round(value, Density.MostDecimals).ToString(CultureInfo.InvariantCulture), out var rounded)
                ? rounded
                : null;
    }
}
