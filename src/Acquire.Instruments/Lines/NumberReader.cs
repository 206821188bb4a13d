using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Reads one density, or a mark that stands in its place, in the instrument's own way of writing. Allocates nothing.</summary>
internal sealed class NumberReader(NumberFormat format)
{
    private const int MostWholeDigits = 2;
    private const int MostDigits = MostWholeDigits + Density.MostDecimals;

    private static readonly string Range = FormattableString.Invariant($"a density from {Density.Least} to {Density.Largest}");

    private readonly ImmutableArray<byte[]> _marks =
        [.. format.OverRange.OrderByDescending(m => m.Length).Select(Encoding.Latin1.GetBytes)];

    private readonly byte _point = format.DecimalMark switch
    {
        DecimalMark.Point => (byte)'.',
        DecimalMark.Comma => (byte)',',
        _ => 0,
    };

    private readonly string _decimals = format.Decimals switch
    {
        null => "a digit after the decimal mark, six at most",
        1 => "1 decimal",
        var n => FormattableString.Invariant($"{n} decimals"),
    };

    private readonly string _digits = format.Decimals is { } d
        ? FormattableString.Invariant($"a number of {d + 1} digits or more, the last {d} of them decimals")
        : "a number";

    private readonly int _leastDigits = format.WholeDigits + format.Decimals ?? format.Decimals + 1 ?? 1;
    private readonly NumberEnd _end = new(format);

    private readonly string _wholeDigits = FormattableString.Invariant(
        $"a number with {format.WholeDigits} digit{(format.WholeDigits == 1 ? "" : "s")} before its decimals");

    private readonly string _missingPoint = format.DecimalMark == DecimalMark.Comma ? "a decimal comma" : "a decimal point";

    /// <summary>Whether a blank may stand where a negative number has its minus.</summary>
    public bool BlankForPlus => format.Sign == SignHabit.BlankForPlus;

    /// <summary>The length of the over-range mark at the head of the text, or 0.
    /// The longest mark wins, and marks go before numbers.</summary>
    public int MarkAt(ReadOnlySpan<byte> text)
    {
        foreach (var mark in _marks)
        {
            // A mark that ends in a digit is one only where the number ends with it: 9.9 is a mark, 9.95 a density.
            if (text.StartsWith(mark) && !(IsDigit(mark[^1]) && GoesOn(text[mark.Length..])))
            {
                return mark.Length;
            }
        }

        return 0;
    }

    /// <summary>Reads a number at <paramref name="at"/> and moves behind it.</summary>
    /// <param name="at">Where to begin; afterwards behind the number, or at the first misfit.</param>
    /// <param name="padded">Whether the place has a fixed width, so that leading zeros may be left out of implied decimals.</param>
    /// <returns>What was expected at <paramref name="at"/>, or null when a number was read.</returns>
    public string? Read(ReadOnlySpan<byte> line, ref int at, bool padded, out decimal value)
    {
        value = 0;
        var start = at;
        if (Sign(line, ref at, out var negative) is { } wrongSign)
        {
            return wrongSign;
        }

        var mantissa = 0L;
        var whole = Digits(line, ref at, ref mantissa);
        var decimals = format.Decimals ?? 0;
        // A number that lost its first digit on the line is still a number; only the count of digits gives it away.
        if (format.WholeDigits is { } wanted && whole != (format.DecimalMark == DecimalMark.Implied ? wanted + decimals : wanted))
        {
            at -= whole;
            return _wholeDigits;
        }

        if (format.DecimalMark == DecimalMark.Implied)
        {
            if (whole < (padded ? 1 : _leastDigits) || whole > MostWholeDigits + decimals)
            {
                return _digits;
            }
        }
        else if (Fraction(line, ref at, whole, ref mantissa, out decimals) is { } wrongFraction)
        {
            return wrongFraction;
        }

        if (_end.Exponent(line, ref at, out var exponent) is { } wrongExponent)
        {
            return wrongExponent;
        }

        if (_end.Value(mantissa, negative, decimals - exponent, out value) is { } wrongRest)
        {
            at = start;
            return wrongRest;
        }

        if (Density.IsPossible(value))
        {
            return null;
        }

        at = start;
        return Range;
    }

    private string? Sign(ReadOnlySpan<byte> line, ref int at, out bool negative)
    {
        var first = at < line.Length ? line[at] : (byte)0;
        negative = first == '-';
        switch ((char)first)
        {
            case '-':
            case '+' when format.Sign is SignHabit.Any or SignHabit.Always:
            case ' ' when format.Sign is SignHabit.Any or SignHabit.BlankForPlus:
                at++;
                return null;
            case '+':
                return "a number without a plus sign";
            default:
                return format.Sign == SignHabit.Always ? "a plus or minus sign" : null;
        }
    }

    private string? Fraction(ReadOnlySpan<byte> line, ref int at, int whole, ref long mantissa, out int decimals)
    {
        decimals = 0;
        if (whole > MostWholeDigits)
        {
            at -= whole;
            return Range;
        }

        if (at >= line.Length || line[at] != _point)
        {
            return whole == 0 ? "a number" : format.Decimals is null ? null : _missingPoint;
        }

        var behindPoint = ++at;
        decimals = Digits(line, ref at, ref mantissa);
        if (format.Decimals is { } fixedDecimals ? decimals == fixedDecimals : decimals is > 0 and <= Density.MostDecimals)
        {
            return null;
        }

        at = behindPoint + Math.Min(decimals, format.Decimals ?? Density.MostDecimals);
        return _decimals;
    }

    private int Digits(ReadOnlySpan<byte> line, ref int at, ref long mantissa)
    {
        var start = at;
        for (; at < line.Length && IsDigit(line[at]); at++)
        {
            // Digits past the most are counted and refused by the caller; adding them up would only overflow.
            if (at - start < MostDigits)
            {
                mantissa = (mantissa * format.Base) + ValueOf(line[at]);
            }
        }

        return at - start;
    }

    private bool GoesOn(ReadOnlySpan<byte> rest) => rest.Length > 0 && (IsDigit(rest[0]) || (_point != 0 && rest[0] == _point));

    private bool IsDigit(byte b) => format.Base == 16 ? char.IsAsciiHexDigit((char)b) : b is >= (byte)'0' and <= (byte)'9';

    private static int ValueOf(byte digit) => digit <= (byte)'9' ? digit - '0' : (digit | 0x20) - 'a' + 10;
}
