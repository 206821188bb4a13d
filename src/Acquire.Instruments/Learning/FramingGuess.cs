using System.Numerics;
using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Finds what begins and ends lines.</summary>
internal static class FramingGuess
{
    private const byte Stx = 0x02;
    private static readonly byte[] Ends = [0x03, 0x04, 0x17];

    /// <summary>The framing, and the line ends in words.</summary>
    /// <exception cref="DeclinedException">Nothing ends a line.</exception>
    public static (FramingSettings Framing, string LineEnds) Of(byte[] bytes) => Seen(bytes) ?? throw new DeclinedException(
        "Nothing in the capture ends a line: no CR, no LF and no end character. If only pauses end the lines, capture them with their "
        + "times (acquire listen --capture) or learn at the port; or write each line on a line of its own in a text file, learn from that, "
        + "then set lineEnd to none and idleGapMs in the profile.");

    /// <summary>The framing, and the line ends in words; null where nothing in the bytes ends a line.</summary>
    public static (FramingSettings Framing, string LineEnds)? Seen(byte[] bytes)
    {
        var text = Encoding.Latin1.GetString(bytes);
        var hasBreaks = text.AsSpan().ContainsAny('\r', '\n');
        if (Block(bytes) is { } end)
        {
            // Line ends between the blocks are taken as well; without any, the end character alone ends a line.
            return (new FramingSettings { Start = Stx, End = end, LineEnd = hasBreaks ? LineEnd.Any : LineEnd.None },
                "start and end characters");
        }

        // Any run of CR and LF ends a line, as a text file may have been through an editor that changed them.
        return hasBreaks ? (new FramingSettings(), Named(text)) : null;
    }

    private static string Named(string text) =>
        !text.Contains('\n') ? "CR"
        : !text.Contains('\r') ? "LF"
        : text.TrimStart('\r', '\n') is var rest && rest.IndexOf('\r') < rest.IndexOf('\n') ? "CR LF"
        : "LF CR";

    /// <summary>The end character when every line is a block between STX and one kind of end; null otherwise.</summary>
    private static byte? Block(byte[] bytes)
    {
        foreach (var end in Ends.Where(e => bytes.Contains(e)))
        {
            var (inside, lines, clean) = (false, 0, true);
            foreach (var b in bytes.Where(b => b != 0))
            {
                var isBreak = b is (byte)'\r' or (byte)'\n' or 0x0C;
                // One byte outside the frames is enough to refuse: a framing guessed wrongly would call it a fault at every reading.
                clean &= b == Stx ? !inside : b == end ? inside : inside || isBreak;
                lines += b == Stx ? 1 : 0;
                inside = b != end && (b == Stx || inside);
            }

            if (clean && !inside && lines > 0 && !HasInnerBreak(bytes, end))
            {
                return end;
            }
        }

        return null;
    }

    private static bool HasInnerBreak(byte[] bytes, byte end)
    {
        var inside = false;
        foreach (var (i, b) in bytes.Index())
        {
            inside = b == Stx || (b != end && inside);
            if (inside && b is (byte)'\r' or (byte)'\n')
            {
                // A break right before the end character still ends one line only.
                var next = Array.FindIndex(bytes, i, c => c is not ((byte)'\r' or (byte)'\n' or 0));
                if (inside && next >= 0 && bytes[next] != end)
                {
                    return true;
                }
            }
        }

        return false;
    }
}

internal enum TopBit
{
    /// <summary>Nothing, or the upper half of an eight-bit character set.</summary>
    Data,
    Even,
    Odd,

    /// <summary>Always set.</summary>
    Mark,
}

/// <summary>Finds out what the top bit carries: seven-bit text received as eight bits shows its parity there.</summary>
internal static class TopBits
{
    public static TopBit Of(ReadOnlySpan<byte> bytes)
    {
        var (any, all, even, odd) = (false, true, true, true);
        foreach (var b in bytes)
        {
            var top = b >= 0x80;
            any |= top;
            all &= top;
            even &= BitOperations.PopCount(b) % 2 == 0;
            odd &= BitOperations.PopCount(b) % 2 == 1;
        }

        // A single byte that breaks the system makes it data: to mask such bytes would turn damaged letters into others.
        return !any ? TopBit.Data : all ? TopBit.Mark : even ? TopBit.Even : odd ? TopBit.Odd : TopBit.Data;
    }

    /// <summary>The bytes without what the top bit carries besides the text.</summary>
    public static byte[] Plain(ReadOnlySpan<byte> bytes, TopBit carries)
    {
        var plain = bytes.ToArray();
        for (var i = 0; carries != TopBit.Data && i < plain.Length; i++)
        {
            plain[i] &= 0x7F;
        }

        return plain;
    }
}
