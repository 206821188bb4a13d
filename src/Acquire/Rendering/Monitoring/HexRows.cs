namespace Acquire.Rendering.Monitoring;

/// <summary>Bytes in rows of sixteen, in hexadecimal and as text.</summary>
internal static class HexRows
{
    private const int BytesPerRow = 16;

    public static IEnumerable<string> Of(ReadOnlyMemory<byte> bytes)
    {
        for (var at = 0; at < bytes.Length; at += BytesPerRow)
        {
            var row = bytes.Span.Slice(at, Math.Min(BytesPerRow, bytes.Length - at));
            yield return $"{string.Join(' ', Convert.ToHexString(row).Chunk(2).Select(b => new string(b))),-47}  {RawLine.Printable(row)}";
        }
    }
}
