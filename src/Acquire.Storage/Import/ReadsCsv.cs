using System.Runtime.CompilerServices;
using CsvHelper;
using CsvHelper.Configuration;

namespace Acquire.Storage.Import;

/// <summary>
/// Reads taken elsewhere, as CSV with the heading <c>patch,read,red,green,blue</c>, or <c>patch,read,visual</c>, in any order and case;
/// <c>visual</c> and <c>placement</c> may be there too, other columns are passed over. Separated by commas, or by semicolons: then the decimal mark may be a
/// comma. A byte order mark and blank lines do no harm.
/// </summary>
public static class ReadsCsv
{
    /// <summary>The longest cell, in characters: a line without end must not fill the memory.</summary>
    private const int LongestCell = 1000;

    /// <summary>Gives the reads one by one, as they stand in the file.</summary>
    /// <exception cref="ImportException">The file is none of this kind; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<ImportedRead> ReadAsync(string file, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var separator = await SeparatorAsync(file, cancellationToken);
        using var text = new StreamReader(file);
        using var csv = new CsvReader(text, Configuration(separator));
        var place = new FilePlace(file, csv.Context);
        ReadsHeading? heading = null;
        var taken = new HashSet<(string Patch, string Placement, int Read)>();
        while (await NextAsync(csv, place, cancellationToken) is { } cells)
        {
            if (cells.All(c => c.Length == 0))
            {
                continue;
            }

            if (heading is null)
            {
                heading = ReadsHeading.Of(cells, place);
                continue;
            }

            var read = new ReadsRow(cells, heading, place, separator).ToRead();
            yield return taken.Add((read.Patch.ToUpperInvariant(), read.Placement ?? "", read.Read))
                ? read
                : throw place.Wrong($"read {read.Read} of patch {read.Patch} stands in the file already; expected each read once");
        }

        if (heading is null)
        {
            throw new ImportException($"{file}: the file is empty; expected the heading {ReadsHeading.Expected} and a line per read.");
        }
    }

    /// <summary>The cells of the next row; null at the end.</summary>
    private static async Task<string[]?> NextAsync(CsvReader csv, FilePlace place, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        try
        {
            return await csv.ReadAsync() ? csv.Parser.Record : null;
        }
        catch (MaxFieldSizeException e)
        {
            throw place.Wrong($"a cell has more than {LongestCell} characters; expected CSV with the heading {ReadsHeading.Expected}", e);
        }
        catch (CsvHelperException e)
        {
            throw place.Wrong($"this is no CSV: a quote does not close or stands inside a cell; expected {ReadsHeading.Expected}", e);
        }
    }

    /// <summary>A semicolon in the first line that is not blank separates; otherwise it is the comma.</summary>
    private static async Task<char> SeparatorAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[4 * LongestCell];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        var line = new string(begin, 0, length).TrimStart().Split('\n', 2)[0];
        return line.Contains(';', StringComparison.Ordinal) ? ';' : ',';
    }

    private static CsvConfiguration Configuration(char separator) => new(CultureInfo.InvariantCulture)
    {
        Delimiter = separator.ToString(),
        HasHeaderRecord = false,
        IgnoreBlankLines = true,
        TrimOptions = TrimOptions.Trim,
        MaxFieldSize = LongestCell,
        CountBytes = false,
        ExceptionMessagesContainRawData = false,
    };
}
