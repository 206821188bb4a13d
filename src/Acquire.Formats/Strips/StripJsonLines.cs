using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Json;
using Acquire.Formats.Json;

namespace Acquire.Formats.Strips;

/// <summary>Strips as JSON Lines (UTF-8): one strip per line, with all that its record has.</summary>
public static class StripJsonLines
{
    private static readonly byte[] LineEnd = "\n"u8.ToArray();

    /// <summary>A record as its line, the same for equal records.</summary>
    public static string Line(StripRecord strip) =>
        JsonSerializer.Serialize(StripDocument.Of(new StripExport(strip, [])), JsonText.Options);

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static async Task WriteAsync(IAsyncEnumerable<StripExport> strips, Stream stream, CancellationToken cancellationToken)
    {
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            // A source may not look at the token itself.
            cancellationToken.ThrowIfCancellationRequested();
            await JsonSerializer.SerializeAsync(stream, StripDocument.Of(strip), JsonText.Options, cancellationToken);
            await stream.WriteAsync(LineEnd, cancellationToken);
        }
    }
}

/// <summary>
/// Reads strips from the JSON Lines of <see cref="StripJsonLines"/>, of this version or an earlier one: each line a whole record.
/// </summary>
public static class StripJsonLinesReader
{
    /// <summary>The longest line, in characters; a strip of a thousand reads with raw lines has a tenth of it.</summary>
    private const int LongestLine = 16 * 1024 * 1024;

    private static readonly JsonSerializerOptions Options =
        // Lines of older versions lack the members that came later.
        new(JsonText.Options) { RespectRequiredConstructorParameters = false, RespectNullableAnnotations = true };

    /// <summary>Gives the records one by one with the line each stands in. Blank lines do no harm.</summary>
    /// <exception cref="ImportException">A line is no record; the message says file, line and what was expected.</exception>
    /// <exception cref="IOException">The file cannot be opened.</exception>
    public static async IAsyncEnumerable<(FilePlace Spot, StripRecord Strip)> ReadAsync(
        string file, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using var text = new StreamReader(file, new UTF8Encoding(false, throwOnInvalidBytes: true));
        for (var number = 1; await LineAsync(text, new FilePlace(file, number), cancellationToken) is { } line; number++)
        {
            if (!string.IsNullOrWhiteSpace(line))
            {
                var spot = new FilePlace(file, number);
                yield return (spot, Parse(line, spot));
            }
        }
    }

    private static StripRecord Parse(string line, FilePlace spot)
    {
        try
        {
            return (EarlierJson.Deserialize<StripDocument>(line, Options) ?? throw new JsonException("null")).ToRecord();
        }
        catch (JsonException e)
        {
            throw spot.Wrong(
                $"this is no strip as 'acquire export strips --format jsonl' writes it "
                + $"({(e.Path is { Length: > 0 } path ? path + ": " : "")}{FilePlace.Shown(e.Message, 160)}). "
                + "If the line is cut off, the file is not whole; nothing was imported",
                e);
        }
        catch (Exception e) when (e is FormatException or ImpossibleValueException or ArgumentException or NullReferenceException
            or InvalidOperationException)
        {
            throw spot.Wrong($"a value of this strip cannot be: {FilePlace.Shown(e.Message, 200).TrimEnd('.')}", e);
        }
    }

    private static async Task<string?> LineAsync(StreamReader text, FilePlace spot, CancellationToken cancellationToken)
    {
        try
        {
            var line = await text.ReadLineAsync(cancellationToken);
            return line is { Length: > LongestLine } ? throw spot.Wrong("the line is too long for a strip") : line;
        }
        catch (DecoderFallbackException e)
        {
            throw spot.Wrong("the bytes are no UTF-8; expected JSON Lines", e);
        }
    }
}
