using System.Collections.Immutable;
using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>A capture cut into lines, and how it was cut.</summary>
/// <param name="Bytes">The bytes, ended where the last line was not.</param>
/// <param name="Framing">What begins and ends a line.</param>
/// <param name="TopBit">What the top bit of the bytes carries.</param>
/// <param name="LineEnds">The line ends seen, for the description.</param>
/// <param name="Lines">The lines, Latin-1, without what frames them; blank ones are left out.</param>
internal sealed record Capture(ReadOnlyMemory<byte> Bytes, FramingSettings Framing, TopBit TopBit, string LineEnds, ImmutableArray<string> Lines)
{
    private const int MostLines = 2000;

    /// <summary>Cuts a capture.</summary>
    /// <exception cref="DeclinedException">Nothing in it ends a line, or it is no text.</exception>
    public static Capture Cut(ReadOnlyMemory<byte> received)
    {
        // A byte order mark is an editor's, not an instrument's.
        received = received.Span.StartsWith("\uFEFF"u8) ? received[3..] : received;
        var topBit = TopBits.Of(received.Span);
        var bytes = received.ToArray();
        var plain = topBit == TopBit.Data ? bytes : [.. bytes.Select(b => (byte)(b & 0x7F))];
        var (framing, ends) = FramingGuess.Of(plain);
        if (plain is [.., not ((byte)'\r' or (byte)'\n' or 0x0C) and var last] && framing.LineEnd == LineEnd.Any && last != framing.End)
        {
            bytes = [.. bytes, (byte)'\r', (byte)'\n'];
        }

        var framer = new LineFramer(framing, topBit != TopBit.Data);
        var frames = framer.Push(bytes, DateTimeOffset.UnixEpoch);
        if (framer.HasPending || frames.Any(f => f.Fault != FrameFault.None))
        {
            throw new DeclinedException("A line of the capture is not whole: it is longer than 256 bytes, or stands outside its start and end characters. Capture whole lines only.");
        }

        ImmutableArray<string> lines = [.. frames.Select(f => Encoding.Latin1.GetString(f.Line.Bytes.AsSpan())).Where(l => !string.IsNullOrWhiteSpace(l))];
        if (lines.Length > MostLines)
        {
            throw new DeclinedException(FormattableString.Invariant($"The capture holds {lines.Length} lines, more than {MostLines}; capture a few readings only."));
        }

        return lines.IsEmpty
            ? throw new DeclinedException("The capture holds no line.")
            : new Capture(bytes, framing, topBit, ends, lines);
    }
}
