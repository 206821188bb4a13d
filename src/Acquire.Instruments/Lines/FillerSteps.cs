using System.Buffers;
using System.Text;

namespace Acquire.Instruments.Lines;

/// <summary>Anything up to the first place where <paramref name="stop"/> stands; to the end of the line when there is no stop.</summary>
/// <param name="stop">The literal that follows, empty for the end of the line.</param>
/// <param name="afterBlank">Whether a blank must stand before the literal.</param>
internal sealed class SkipStep(string stop, bool afterBlank) : MatchStep
{
    private readonly byte[] _stop = Encoding.Latin1.GetBytes(stop);
    private readonly string _expected = $"'{stop}' further on";

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (_stop.Length == 0)
        {
            at = line.Length;
            return true;
        }

        for (var from = at; line[from..].IndexOf(_stop) is >= 0 and var found; from += found + 1)
        {
            var stopAt = from + found;
            if (!afterBlank)
            {
                at = stopAt;
                return true;
            }

            if (stopAt > at && IsBlank(line[stopAt - 1]))
            {
                // The blanks belong to the step that follows.
                at += line[at..stopAt].TrimEnd(" \t"u8).Length;
                return true;
            }
        }

        return match.Miss(at, _expected);
    }
}

/// <summary>A run of non-blank characters: to the next blank, or to the literal that follows at once.</summary>
internal sealed class WordStep(string stop) : MatchStep
{
    private readonly byte[] _stop = Encoding.Latin1.GetBytes(stop);

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var rest = line[at..];
        var blank = rest.IndexOfAny((byte)' ', (byte)'\t');
        var length = blank < 0 ? rest.Length : blank;
        var stopAt = _stop.Length == 0 ? -1 : rest[..length].IndexOf(_stop);
        length = stopAt < 0 ? length : stopAt;
        at += length;
        return length > 0 || match.Miss(at, "a word");
    }
}

/// <summary>Digits with sign and one decimal mark allowed, whose value does not count.</summary>
internal sealed class PlainNumberStep(string stop) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var start = at;
        at += at < line.Length && line[at] is (byte)'+' or (byte)'-' ? 1 : 0;
        var digits = Digits(line, ref at);
        if (at + 1 < line.Length && line[at] is (byte)'.' or (byte)',' && char.IsAsciiDigit((char)line[at + 1]) && !StopsAt(line[at]))
        {
            at++;
            digits += Digits(line, ref at);
        }

        return digits > 0 || match.Miss(start, "a number");
    }

    private bool StopsAt(byte b) => stop.Length > 0 && stop[0] == b;

    private static int Digits(ReadOnlySpan<byte> line, ref int at)
    {
        var start = at;
        while (at < line.Length && char.IsAsciiDigit((char)line[at]))
        {
            at++;
        }

        return at - start;
    }
}

/// <summary>One letter whose meaning does not count; behind an over-range mark it may be missing.</summary>
internal sealed class LetterStep : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (at >= line.Length || !char.IsAsciiLetter((char)line[at]))
        {
            return match.AnyBeyond || match.Miss(at, "a letter");
        }

        at++;
        return true;
    }
}

/// <summary>Dots or underlines that fill a column up to its number. All of a run is taken: where numbers have no nought in front, their
/// point goes with it, and the number is refused rather than read too large.</summary>
internal sealed class LeaderStep : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var start = at;
        if (at < line.Length && line[at] is (byte)'.' or (byte)'_')
        {
            var found = line[at..].IndexOfAnyExcept(line[at]);
            at = found < 0 ? line.Length : at + found;
        }

        return at > start || match.Miss(at, "dots or underlines");
    }
}

/// <summary>A word or plain number of fixed width, blanks included; a number must hold digits, signs, marks and blanks only.</summary>
internal sealed class FixedFillerStep(int width, bool isNumber) : MatchStep
{
    private static readonly SearchValues<byte> Numeric = SearchValues.Create("0123456789+-., "u8);

    private readonly string _expected = FormattableString.Invariant($"{(isNumber ? "a number" : "a word")} in {width} characters");

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (!TryField(line, at, width, out var field))
        {
            return match.Miss(line.Length, _expected);
        }

        var fits = isNumber
            ? !field.ContainsAnyExcept(Numeric) && field.ContainsAnyInRange((byte)'0', (byte)'9')
            : !field.Trim(" \t"u8).IsEmpty;
        if (!fits)
        {
            return match.Miss(at, _expected);
        }

        at += width;
        return true;
    }
}
