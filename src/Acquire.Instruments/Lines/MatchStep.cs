using System.Text;

namespace Acquire.Instruments.Lines;

/// <summary>One step of a compiled template: takes its part of the line and moves on, or notes the misfit. Nothing goes back.</summary>
internal abstract class MatchStep
{
    /// <summary>Whether the step was taken; if not, the misfit is noted in <paramref name="match"/>.</summary>
    public abstract bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match);

    protected static bool IsBlank(byte b) => b is (byte)' ' or (byte)'\t';

    /// <summary>The part of the line that a place of fixed width covers, or nothing when the line is too short.</summary>
    protected static bool TryField(ReadOnlySpan<byte> line, int at, int width, out ReadOnlySpan<byte> field)
    {
        var enough = line.Length - at >= width;
        field = enough ? line.Slice(at, width) : default;
        return enough;
    }
}

/// <summary>Characters that stand on the line exactly so.</summary>
internal sealed class LiteralStep(string text) : MatchStep
{
    private readonly byte[] _bytes = Encoding.Latin1.GetBytes(text);
    private readonly string _expected = $"'{text}'";

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var same = line[at..].CommonPrefixLength(_bytes);
        if (same < _bytes.Length)
        {
            return match.Miss(at + same, _expected);
        }

        at += same;
        return true;
    }
}

/// <summary>One or more blanks; before a number whose plus is a blank, a minus or a mark may stand in the place of the only one.</summary>
/// <param name="signOf">How the number that follows is written, where its plus is a blank; otherwise null.</param>
internal sealed class BlanksStep(NumberReader? signOf = null) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        var start = at;
        while (at < line.Length && IsBlank(line[at]))
        {
            at++;
        }

        return at > start || TakesPlace(line[at..]) || match.Miss(at, "a blank");
    }

    private bool TakesPlace(ReadOnlySpan<byte> rest) => signOf is not null && (rest is [(byte)'-', ..] || signOf.MarkAt(rest) > 0);
}

/// <summary>What the steps that read a density say alike.</summary>
internal static class Misfit
{
    public const string Twice = "the same density as before on this line";
}

/// <summary>A density that takes as many characters as it needs.</summary>
internal sealed class ValueStep(int slot, NumberReader numbers) : MatchStep
{
    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (numbers.MarkAt(line[at..]) is > 0 and var markLength)
        {
            at += markLength;
            return match.SetBeyond(slot) || match.Miss(at - markLength, Misfit.Twice);
        }

        var start = at;
        return numbers.Read(line, ref at, padded: false, out var value) is { } expected
            ? match.Miss(at, expected)
            : match.Set(slot, value) || match.Miss(start, Misfit.Twice);
    }
}

/// <summary>A density in a field of fixed width, set against its left or right side and padded with blanks.</summary>
internal sealed class FixedValueStep(int slot, int width, NumberReader numbers) : MatchStep
{
    private readonly string _tooShort = FormattableString.Invariant($"a density in {width} characters");
    private readonly string _loose = FormattableString.Invariant($"a density against the left or right side of its {width} characters");

    public override bool Take(ReadOnlySpan<byte> line, ref int at, ref LineMatch match)
    {
        if (!TryField(line, at, width, out var field))
        {
            return match.Miss(line.Length, _tooShort);
        }

        var lead = field.Length - field.TrimStart((byte)' ').Length;
        var trail = field.Length - field.TrimEnd((byte)' ').Length;
        // One blank before a left-justified number may be its sign; more means that the columns have shifted.
        if (lead == width || (lead > 1 && trail > 0))
        {
            return match.Miss(at, _loose);
        }

        if (!FieldReader.Take(field[lead..^trail], slot, numbers, padded: true, at + lead, ref match))
        {
            return false;
        }

        at += width;
        return true;
    }
}

/// <summary>Reads a density, or a mark in its place, that must fill a whole field.</summary>
internal static class FieldReader
{
    public static bool Take(ReadOnlySpan<byte> field, int slot, NumberReader numbers, bool padded, int offset, ref LineMatch match)
    {
        if (numbers.MarkAt(field) == field.Length && field.Length > 0)
        {
            return match.SetBeyond(slot) || match.Miss(offset, Misfit.Twice);
        }

        var at = 0;
        if (numbers.Read(field, ref at, padded, out var value) is { } expected)
        {
            return match.Miss(offset + at, expected);
        }

        if (at < field.Length)
        {
            return match.Miss(offset + at, "the end of the number");
        }

        return match.Set(slot, value) || match.Miss(offset, Misfit.Twice);
    }
}
