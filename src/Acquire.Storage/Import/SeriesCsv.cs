using CsvHelper;
using CsvHelper.Configuration;

namespace Acquire.Storage.Import;

/// <summary>One row of a plain series: a value, and where the file has them a group and an x.</summary>
public sealed record SeriesRow(double Value, string? Group, double? X);

/// <summary>
/// A plain series as CSV: a heading with the column <c>value</c>, and optionally <c>group</c> and <c>x</c>, in any order and case; other columns
/// are passed over. Separated by commas, or by semicolons: then the decimal mark may be a comma.
/// </summary>
public static class SeriesCsv
{
    private const int LongestCell = 1000;
    private const string Expected = "a heading with the column value, and optionally group and x";

    /// <summary>Reads the whole series.</summary>
    /// <exception cref="ImportException">The file is none of this kind; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async Task<IReadOnlyList<SeriesRow>> ReadAsync(string file, CancellationToken cancellationToken)
    {
        var separator = await SeparatorAsync(file, cancellationToken);
        using var text = new StreamReader(file);
        using var csv = new CsvReader(text, new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = separator.ToString(),
            HasHeaderRecord = false,
            TrimOptions = TrimOptions.Trim,
            MaxFieldSize = LongestCell,
            ExceptionMessagesContainRawData = false,
        });
        var place = new FilePlace(file, csv.Context);
        (int Value, int Group, int X)? columns = null;
        var rows = new List<SeriesRow>();
        while (await NextAsync(csv, place, cancellationToken) is { } cells)
        {
            if (cells.All(c => c.Length == 0))
            {
                continue;
            }

            if (columns is not { } at)
            {
                columns = Columns(cells, place);
                continue;
            }

            rows.Add(new SeriesRow(
                Number(Cell(cells, at.Value), "value", separator, place),
                at.Group < 0 ? null : Cell(cells, at.Group) is { Length: > 0 } group ? group : throw place.Wrong("group is empty; expected the group's name"),
                at.X < 0 ? null : Number(Cell(cells, at.X), "x", separator, place)));
        }

        return rows.Count > 0 ? rows : throw new ImportException($"{file}: the file holds no value; expected {Expected}, and a line per value.");
    }

    private static (int Value, int Group, int X) Columns(string[] cells, FilePlace place)
    {
        var names = cells.Select(c => c.Trim().ToLowerInvariant()).ToList();
        return names.IndexOf("value") is >= 0 and var value
            ? (value, names.IndexOf("group"), names.IndexOf("x"))
            : throw place.Wrong($"the heading lacks value; expected {Expected}, found '{FilePlace.Shown(string.Join(',', cells))}'");
    }

    private static string Cell(string[] cells, int column) => column < cells.Length ? cells[column] : "";

    private static double Number(string cell, string column, char separator, FilePlace place) =>
        double.TryParse(separator == ';' ? cell.Replace(',', '.') : cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : throw place.Wrong($"{column} is {(cell.Length == 0 ? "empty" : $"'{FilePlace.Shown(cell)}'")}; expected a number such as 0.26");

    private static async Task<string[]?> NextAsync(CsvReader csv, FilePlace place, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        try
        {
            return await csv.ReadAsync() ? csv.Parser.Record : null;
        }
        catch (CsvHelperException e)
        {
            throw place.Wrong($"this is no CSV: a quote does not close, stands inside a cell, or a cell is too long; expected {Expected}", e);
        }
    }

    private static async Task<char> SeparatorAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[LongestCell];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        return new string(begin, 0, length).TrimStart().Split('\n', 2)[0].Contains(';', StringComparison.Ordinal) ? ';' : ',';
    }
}
