namespace Acquire.Formats.Csv;

/// <summary>One row of a plain series: a value, and where the file has them a group and an x.</summary>
public sealed record SeriesRow(double Value, string? Group, double? X);

/// <summary>
/// A plain series as CSV: a heading with the column <c>value</c>, and optionally <c>group</c> and <c>x</c>, in any order and case; other
/// columns are passed over. Separated by commas, or by semicolons or tabs: then the decimal mark may be a comma.
/// </summary>
public static class SeriesCsv
{
    /// <summary>Squares of larger numbers are no numbers.</summary>
    public const double Largest = 1e100;

    private const string Expected = "a heading with the column value, and optionally group and x";

    /// <summary>Reads the whole series.</summary>
    /// <exception cref="ImportException">The file is none of this kind; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async Task<IReadOnlyList<SeriesRow>> ReadAsync(string file, CancellationToken cancellationToken)
    {
        (int Value, int Group, int X)? columns = null;
        var rows = new List<SeriesRow>();
        await foreach (var line in CsvTable.ReadAsync(file, Expected, null, trim: true, cancellationToken))
        {
            if (columns is not { } at)
            {
                columns = Columns(line);
                continue;
            }

            rows.Add(new SeriesRow(
                Number(line, at.Value, "value"),
                at.Group < 0 ? null : line.Cell(at.Group) is { Length: > 0 } group
                    ? group
                    : throw line.PlaceOf(at.Group).Wrong("group is empty; expected the group's name"),
                at.X < 0 ? null : Number(line, at.X, "x")));
        }

        return rows.Count > 0
            ? rows
            : throw new ImportException($"{file}: the file holds no value; expected {Expected}, and a line per value.");
    }

    private static (int Value, int Group, int X) Columns(CsvLine heading)
    {
        var names = heading.Cells.Select(c => c.Trim().ToLowerInvariant()).ToList();
        return names.IndexOf("value") is >= 0 and var value
            ? (value, names.IndexOf("group"), names.IndexOf("x"))
            : throw heading.Place.Wrong(
                $"the heading lacks value; expected {Expected}, found '{FilePlace.Shown(string.Join(',', heading.Cells))}'");
    }

    private static double Number(CsvLine line, int column, string name)
    {
        var isNumber = double.TryParse(line.Number(column), NumberStyles.Float, CultureInfo.InvariantCulture, out var number);
        return isNumber && Math.Abs(number) <= Largest ? number
            : isNumber && double.IsFinite(number)
                ? throw line.PlaceOf(column).Wrong(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{name} is {line.Shown(column)}, beyond ±{Largest:0e+0} and too large to reckon with; choose a larger unit"))
                : throw line.PlaceOf(column).Wrong($"{name} is {line.Shown(column)}; expected a number such as 0.26");
    }
}
