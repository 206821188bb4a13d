using System.Buffers;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace Acquire.Storage.Export;

/// <summary>Strips as CSV (RFC 4180, UTF-8 without byte order mark): a line per read, per mean and per parameter.</summary>
public static class StripCsv
{
    /// <summary>
    /// Not only what RFC 4180 asks to quote: where a spreadsheet separates at semicolons or tabs, an unquoted one would begin a new cell,
    /// and the rest of the text might be a formula.
    /// </summary>
    private static readonly SearchValues<char> Quoted = SearchValues.Create(",;\t\"'\r\n");

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static async Task WriteAsync(IAsyncEnumerable<StripExport> strips, Stream stream, CancellationToken cancellationToken)
    {
        await using var text = new StreamWriter(stream, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true);
        await using var csv = new CsvWriter(text, Configuration());
        await WriteLineAsync(csv, CsvRow.Columns.Select(c => c.Header));
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            // A source may not look at the token itself.
            cancellationToken.ThrowIfCancellationRequested();
            foreach (var row in CsvRows.Of(strip))
            {
                await WriteLineAsync(csv, CsvRow.Columns.Select(c => c.Cell(row)));
            }
        }
    }

    /// <summary>Comma, CRLF and quotes as in RFC 4180 section 2; the cells come defused already.</summary>
    internal static CsvConfiguration Configuration() => new(CultureInfo.InvariantCulture)
    {
        NewLine = "\r\n",
        ShouldQuote = args => args.Field is { Length: > 0 } field
            && (field.AsSpan().ContainsAny(Quoted) || char.IsWhiteSpace(field[0]) || char.IsWhiteSpace(field[^1])),
    };

    private static async Task WriteLineAsync(CsvWriter csv, IEnumerable<string?> cells)
    {
        foreach (var cell in cells)
        {
            csv.WriteField(cell);
        }

        await csv.NextRecordAsync();
    }
}
