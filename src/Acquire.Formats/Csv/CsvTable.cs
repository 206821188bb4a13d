using System.Buffers;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.RegularExpressions;
using System.Text.Unicode;
using CsvHelper;
using CsvHelper.Configuration;

namespace Acquire.Formats.Csv;

/// <summary>A row of a CSV file.</summary>
/// <param name="Place">Where it begins.</param>
/// <param name="Cells">Its cells; one that the heading has and the row lacks is not among them.</param>
/// <param name="Separator">What separates the cells of the file.</param>
public sealed record CsvLine(FilePlace Place, string[] Cells, char Separator)
{
    /// <summary>A cell without blanks around it; empty where the row is short.</summary>
    public string Cell(int column) => column < Cells.Length ? Cells[column].Trim() : "";

    /// <summary>Where a cell stands: line, and column counted from 1.</summary>
    public FilePlace PlaceOf(int column) => Place with { Column = column + 1 };

    /// <summary>A number's text with a decimal point: where commas do not separate, they may be decimal marks.</summary>
    public string Number(int column) => Separator == ',' ? Cell(column) : Cell(column).Replace(',', '.');

    /// <summary>A cell as an error shows it.</summary>
    public string Shown(int column) => Cell(column) is { Length: > 0 } text ? $"'{FilePlace.Shown(text)}'" : "empty";
}

/// <summary>CSV (RFC 4180) in UTF-8: the one way in which tables are read and written. Rows pass one by one.</summary>
public static class CsvTable
{
    private const int LongestCell = 100_000;

    private const int Sample = 64 * 1024;

    /// <summary>
    /// Not only what RFC 4180 asks to quote: where a spreadsheet separates at semicolons or tabs, an unquoted one would begin a new cell,
    /// and the rest of the text might be a formula.
    /// </summary>
    private static readonly SearchValues<char> Quoted = SearchValues.Create(",;\t\"'\r\n");

    /// <summary>
    /// The rows, blank ones left out; the first is the heading. Comma, semicolon or tab separate; a byte order mark does no harm.
    /// </summary>
    /// <param name="expected">What the file should have, for messages.</param>
    /// <param name="separator">The separator; null to see it from the heading.</param>
    /// <param name="trim">Whether blanks around cells are no part of them.</param>
    /// <exception cref="ImportException">The file is no CSV, is not UTF-8, or is cut off; the message says file and line.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<CsvLine> ReadAsync(
        string file, string expected, char? separator, bool trim, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        var delimiter = separator ?? await SeparatorAsync(file, cancellationToken);
        using var text = new StreamReader(file, new UTF8Encoding(false, throwOnInvalidBytes: true));
        using var csv = new CsvReader(text, new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = delimiter.ToString(),
            HasHeaderRecord = false,
            IgnoreBlankLines = true,
            TrimOptions = trim ? TrimOptions.Trim : TrimOptions.None,
            MaxFieldSize = LongestCell,
            CountBytes = false,
            ExceptionMessagesContainRawData = false,
        });
        var width = 0;
        // Each row is given one late: only what follows tells whether it is the last, the one that may be cut off.
        CsvLine? before = null;
        while (await NextAsync(csv, file, expected, cancellationToken) is { } cells)
        {
            if (cells.All(string.IsNullOrWhiteSpace))
            {
                continue;
            }

            if (before is not null)
            {
                yield return before;
            }

            var place = new FilePlace(file, Math.Max(1, csv.Parser.RawRow - cells.Sum(c => c.Count(ch => ch == '\n'))));
            width = width == 0 ? cells.Length : width;

            // 0,45 between commas makes two cells: the numbers behind it would stand in the wrong columns.
            if (cells.Length > width && cells.Skip(width).Any(c => c.Length > 0))
            {
                throw place.Wrong(
                    $"the row has {cells.Length} cells, the heading {width}; expected a cell per column. "
                    + "A separator may stand unquoted in a cell (with decimal commas, separate the cells by semicolons)");
            }

            before = new CsvLine(place, cells, delimiter);
        }

        if (before is null)
        {
            throw new ImportException($"{file}: the file is empty; expected {expected}.");
        }

        // A row in the middle that is short has empty cells at its end; the last one of a file without a last line end was cut off.
        if (before.Cells.Length < width && !await EndsWithLineAsync(file, cancellationToken))
        {
            throw before.Place.Wrong($"the file is cut off here: the last row has {before.Cells.Length} of {width} cells and no "
                + "line end. Nothing was imported; copy the file again");
        }

        yield return before;
    }

    /// <summary>Writes a table row by row, without byte order mark, and leaves the stream open.</summary>
    /// <param name="columns">Heading and cell of each column; text cells come defused (<see cref="CellText"/>).</param>
    public static async Task WriteAsync<T>(
        Stream stream, IReadOnlyList<(string Heading, Func<T, string?> Cell)> columns, IAsyncEnumerable<T> rows,
        CancellationToken cancellationToken)
    {
        await using var text = new StreamWriter(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true);
        await using var csv = new CsvWriter(text, new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            NewLine = "\r\n",
            ShouldQuote = args => args.Field is { Length: > 0 } field
                && (field.AsSpan().ContainsAny(Quoted) || char.IsWhiteSpace(field[0]) || char.IsWhiteSpace(field[^1])),
        });
        await WriteRowAsync(csv, columns.Select(c => (string?)c.Heading));
        await foreach (var row in rows.WithCancellation(cancellationToken))
        {
            // A source may not look at the token itself.
            cancellationToken.ThrowIfCancellationRequested();
            await WriteRowAsync(csv, columns.Select(c => c.Cell(row)));
        }
    }

    private static async Task WriteRowAsync(CsvWriter csv, IEnumerable<string?> cells)
    {
        foreach (var cell in cells)
        {
            csv.WriteField(cell);
        }

        await csv.NextRecordAsync();
    }

    private static async Task<string[]?> NextAsync(CsvReader csv, string file, string expected, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        try
        {
            // The cells are split when they are asked for, and only then is bad data found.
            return await csv.ReadAsync() ? csv.Parser.Record : null;
        }
        catch (MaxFieldSizeException e)
        {
            throw Here().Wrong($"a cell has more than {LongestCell} characters, so this is no table; expected {expected}", e);
        }
        catch (CsvHelperException e)
        {
            throw Here().Wrong(
                "a quote does not close or stands inside a cell; a quote in a cell is written twice, and the cell in quotes; "
                    + $"expected {expected}", e);
        }
        catch (DecoderFallbackException e)
        {
            throw new FilePlace(file, await FirstNotUtf8Async(file, cancellationToken)).Wrong(
                "the bytes are no UTF-8; save the table as CSV in UTF-8", e);
        }

        FilePlace Here() => new(file, Math.Max(1, csv.Parser.RawRow));
    }

    /// <summary>The first line whose bytes are none: letters are decoded ahead of the rows, so no row tells where.</summary>
    private static async Task<int> FirstNotUtf8Async(string file, CancellationToken cancellationToken)
    {
        // Latin-1 has a letter for every byte, and gives each back as it was.
        using var text = new StreamReader(file, Encoding.Latin1, detectEncodingFromByteOrderMarks: false);
        var line = 1;
        while (await text.ReadLineAsync(cancellationToken) is { } read && Utf8.IsValid(Encoding.Latin1.GetBytes(read)))
        {
            line++;
        }

        return line;
    }

    /// <summary>Of semicolon, tab and comma the one that the first line has most, outside quotes.</summary>
    private static async Task<char> SeparatorAsync(string file, CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file);
        var begin = new char[Sample];
        var length = await text.ReadBlockAsync(begin, cancellationToken);
        var line = new string(begin, 0, length).TrimStart('\r', '\n', ' ', '\uFEFF').Split('\n', 2)[0];
        // Between quotes lie the odd pieces; a comma of a heading there separates nothing.
        var outside = string.Concat(line.Split('"').Where((_, i) => i % 2 == 0));
        return ",;\t".MaxBy(c => outside.Count(o => o == c));
    }

    private static async Task<bool> EndsWithLineAsync(string file, CancellationToken cancellationToken)
    {
        await using var stream = File.OpenRead(file);
        _ = stream.Seek(-1, SeekOrigin.End);
        var last = new byte[1];
        await stream.ReadExactlyAsync(last, cancellationToken);
        return last[0] is (byte)'\n' or (byte)'\r';
    }
}

/// <summary>
/// Text for a CSV cell that a spreadsheet will not take for a formula. Source of the list of beginnings: OWASP, "CSV Injection"
/// (= + - @ tab, carriage return, line feed, and the full-width forms of the first four).
/// </summary>
/// <remarks>
/// An apostrophe goes in front. Text that begins with an apostrophe gets another, so that taking one away always gives the text back.
/// Plain numbers stay as they are: -0.03 is no formula.
/// </remarks>
internal static partial class CellText
{
    private const char Guard = '\'';

    private const string Risky = "=+-@\t\r\n\0'＝＋－＠";

    public static string? Defused(string? text) =>
        text is [var first, ..] && Risky.Contains(first, StringComparison.Ordinal) && !PlainNumber().IsMatch(text) ? Guard + text : text;

    public static string? Number(double? value) =>
        value is { } number && double.IsFinite(number) ? (number + 0.0).ToString("R", CultureInfo.InvariantCulture) : null;

    public static string Number(int value) => value.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\A[+-]?[0-9]+(\.[0-9]+)?\z", RegexOptions.CultureInvariant)]
    private static partial Regex PlainNumber();
}
