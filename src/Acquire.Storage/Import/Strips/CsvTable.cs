using System.Runtime.CompilerServices;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace Acquire.Storage.Import.Strips;

/// <summary>A CSV file as rows of cells: RFC 4180 with comma, semicolon or tab, with or without a byte order mark. Rows pass one by one.</summary>
internal static class CsvTable
{
    private const int LongestCell = 100_000;

    private const int Sample = 64 * 1024;

    /// <summary>A row of the file.</summary>
    public sealed record Row(FileSpot Spot, string[] Cells);

    /// <summary>The rows, blank ones left out. The first is the heading.</summary>
    /// <exception cref="ImportException">The file is no CSV, or is cut off.</exception>
    public static async IAsyncEnumerable<Row> ReadAsync(string file, char? separator, bool trim, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var delimiter = separator ?? await SeparatorAsync(file, cancellationToken);
        using var text = new StreamReader(file, new UTF8Encoding(false, throwOnInvalidBytes: true));
        using var csv = new CsvReader(text, Configuration(delimiter, trim));
        var width = 0;
        Row? before = null;
        while (await NextAsync(csv, file, cancellationToken) is { } cells)
        {
            if (cells.All(string.IsNullOrWhiteSpace))
            {
                continue;
            }

            if (before is not null)
            {
                yield return before;
            }

            var spot = new FileSpot(file, Math.Max(1, csv.Parser.RawRow - LineBreaks(cells)));
            width = width == 0 ? cells.Length : width;
            if (cells.Length > width && cells.Skip(width).Any(c => c.Length > 0))
            {
                throw spot.Wrong($"the row has {cells.Length} cells and the heading {width}; expected as many. A separator or decimal comma may stand unquoted in a cell");
            }

            before = new Row(spot, cells);
        }

        if (before is null)
        {
            throw new ImportException($"{file}: the file is empty; expected a heading and rows.");
        }

        // A row in the middle that is short has empty cells at its end; the last one of a file without a last line end was cut off.
        if (before.Cells.Length < width && !await EndsWithLineAsync(file, cancellationToken))
        {
            throw before.Spot.Wrong($"the file is cut off here: the last row has {before.Cells.Length} of {width} cells and no line end. Nothing was imported; copy the file again");
        }

        yield return before;
    }

    private static int LineBreaks(string[] cells) => cells.Sum(c => c.Count(ch => ch == '\n'));

    private static async Task<string[]?> NextAsync(CsvReader csv, string file, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        try
        {
            // The cells are split when they are asked for, and only then is bad data found.
            return await csv.ReadAsync() ? csv.Parser.Record : null;
        }
        catch (MaxFieldSizeException e)
        {
            throw Here().Wrong($"a cell has more than {LongestCell} characters, so this is no table", e);
        }
        catch (CsvHelperException e)
        {
            throw Here().Wrong("a quote does not close or stands inside a cell; a quote in a cell is written twice, and the cell in quotes", e);
        }
        catch (DecoderFallbackException e)
        {
            throw Here().Wrong("the bytes are no UTF-8; save the table as CSV in UTF-8", e);
        }

        FileSpot Here() => new(file, Math.Max(1, csv.Parser.RawRow));
    }

    /// <summary>Of semicolon, tab and comma the one that the first line has most, outside quotes.</summary>
    private static async Task<char> SeparatorAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[Sample];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        var line = new string(begin, 0, length).TrimStart('\r', '\n', ' ', '\uFEFF').Split('\n', 2)[0].Split('"').Where((_, i) => i % 2 == 0);
        var outside = string.Concat(line);
        return ";\t,".MaxBy(c => outside.Count(o => o == c));
    }

    private static async Task<bool> EndsWithLineAsync(string file, CancellationToken cancellationToken)
    {
        await using var stream = File.OpenRead(file);
        _ = stream.Seek(-1, SeekOrigin.End);
        var last = new byte[1];
        await stream.ReadExactlyAsync(last, cancellationToken);
        return last[0] is (byte)'\n' or (byte)'\r';
    }

    private static CsvConfiguration Configuration(char separator, bool trim) => new(CultureInfo.InvariantCulture)
    {
        Delimiter = separator.ToString(),
        HasHeaderRecord = false,
        IgnoreBlankLines = true,
        TrimOptions = trim ? TrimOptions.Trim : TrimOptions.None,
        MaxFieldSize = LongestCell,
        CountBytes = false,
        ExceptionMessagesContainRawData = false,
    };
}
