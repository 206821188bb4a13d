using System.Text.Json;

namespace Acquire.Formats.Strips;

/// <summary>Strips as JSON Lines (UTF-8): one strip per line, with all that its record has.</summary>
public static class StripJsonLines
{
    private static readonly byte[] LineEnd = "\n"u8.ToArray();

    /// <summary>A record as its line, the same for equal records.</summary>
    public static string Line(StripRecord strip) =>
        JsonSerializer.Serialize(StripDocument.Of(new StripExport(strip, [])), StoreJson.Options);

    /// <summary>Writes strips one by one and leaves the stream open.</summary>
    public static async Task WriteAsync(IAsyncEnumerable<StripExport> strips, Stream stream, CancellationToken cancellationToken)
    {
        await foreach (var strip in strips.WithCancellation(cancellationToken))
        {
            // A source may not look at the token itself.
            cancellationToken.ThrowIfCancellationRequested();
            await JsonSerializer.SerializeAsync(stream, StripDocument.Of(strip), StoreJson.Options, cancellationToken);
            await stream.WriteAsync(LineEnd, cancellationToken);
        }
    }
}
