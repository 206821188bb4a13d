using System.Text;
using Acquire.Instruments.Captures;

namespace Acquire.Instruments.Learning;

/// <summary>All that came between two silences: one reading, when the instrument's key was pressed once.</summary>
/// <param name="Chunks">What came, at least one chunk.</param>
/// <param name="IsEndless">Whether it had not ended when it was long enough to tell that it is no reading.</param>
public sealed record Burst(ImmutableArray<CaptureChunk> Chunks, bool IsEndless)
{
    /// <summary>The bytes.</summary>
    public ImmutableArray<byte> Bytes { get; } = [.. Chunks.SelectMany(c => c.Bytes)];

    /// <summary>
    /// The lines for the eye, as <see cref="RawLine.Printable"/> shows them; what the top bits carry besides the text is left aside.
    /// </summary>
    public IEnumerable<string> Lines() =>
        Encoding.Latin1.GetString(TopBits.Plain(Bytes.AsSpan(), TopBits.Of(Bytes.AsSpan()))).Split(
            ['\r', '\n'], StringSplitOptions.RemoveEmptyEntries)
            .Select(l => RawLine.Printable(Encoding.Latin1.GetBytes(l)));
}
