using System.Runtime.InteropServices;

namespace Acquire.Instruments.Monitoring;

/// <summary>The newest bytes that belong to no line yet.</summary>
internal sealed class Unfinished
{
    private const int MostBytes = 256;

    private readonly List<byte> _bytes = [];

    public ReadOnlySpan<byte> Bytes => CollectionsMarshal.AsSpan(_bytes);

    public void Add(ReadOnlySpan<byte> chunk)
    {
        _bytes.AddRange(chunk);
        _bytes.RemoveRange(0, Math.Max(0, _bytes.Count - (MostBytes + chunk.Length)));
    }

    /// <summary>Takes out a line that has ended, with what came before it and the rest of its end.</summary>
    public void Remove(ReadOnlySpan<byte> line)
    {
        var at = Bytes.IndexOf(line);
        if (at >= 0)
        {
            var end = at + line.Length;
            var rest = Bytes[end..].TrimStart("\r\n\f\x03"u8);
            _bytes.RemoveRange(0, _bytes.Count - rest.Length);
        }
    }
}
