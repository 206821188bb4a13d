using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>What may come behind the digits of a number, and the reading that number and exponent make. Allocates nothing.</summary>
internal sealed class NumberEnd(NumberFormat format)
{
    private const int MostPlaces = 28;

    private readonly string _exponent = FormattableString.Invariant(
        $"E, a sign and {format.ExponentDigits} digit{(format.ExponentDigits == 1 ? "" : "s")}");

    private readonly string _noughts = FormattableString.Invariant(
        $"a number with nothing but noughts behind its {format.ShownDecimals} shown decimals");

    /// <summary>Reads the exponent where numbers have one, and moves behind it.</summary>
    /// <returns>What was expected at <paramref name="at"/>, or null when nothing is missing.</returns>
    public string? Exponent(ReadOnlySpan<byte> line, ref int at, out int exponent)
    {
        exponent = 0;
        if (format.ExponentDigits is not { } digits)
        {
            return null;
        }

        var rest = line[at..];
        if (rest.Length < digits + 2 || rest[0] is not ((byte)'E' or (byte)'e') || rest[1] is not ((byte)'+' or (byte)'-'))
        {
            return _exponent;
        }

        foreach (var b in rest[2..(digits + 2)])
        {
            if (b is < (byte)'0' or > (byte)'9')
            {
                return _exponent;
            }

            exponent = (exponent * 10) + (b - '0');
        }

        exponent = rest[1] == '-' ? -exponent : exponent;
        at += digits + 2;
        return null;
    }

    /// <summary>The density of a number's digits.</summary>
    /// <param name="mantissa">All digits as one whole number.</param>
    /// <param name="negative">Whether a minus stood before them.</param>
    /// <param name="places">How many of the digits are decimals; negative where an exponent makes the number larger.</param>
    /// <param name="value">The density, with the decimals that it was shown with.</param>
    /// <returns>What was expected instead, or null.</returns>
    public string? Value(long mantissa, bool negative, int places, out decimal value)
    {
        // Made of its digits, so that 1.20 keeps its last nought: the count of decimals is the display step.
        value = places is >= 0 and <= MostPlaces
            ? new decimal((int)mantissa, (int)(mantissa >> 32), 0, negative && mantissa != 0, (byte)places)
            : mantissa == 0 ? 0 : decimal.MaxValue;
        if (places is < 0 and >= -2 && mantissa != 0)
        {
            value = mantissa * (places == -1 ? 10m : 100m) * (negative ? -1 : 1);
        }

        if (format.ShownDecimals is not { } shown || Math.Abs(value) > Density.Largest)
        {
            return null;
        }

        var mode = format.Rounding == Rounding.Nearest ? MidpointRounding.AwayFromZero : MidpointRounding.ToZero;
        var rounded = Math.Round(value, shown, mode);
        if (format.Rounding == Rounding.Exact && rounded != value)
        {
            return _noughts;
        }

        // The sum has the larger count of decimals, so that 1.2E+00 is 1.20 where two decimals are shown.
        value = rounded == 0 ? new decimal(0, 0, 0, false, (byte)shown) : rounded + new decimal(0, 0, 0, false, (byte)shown);
        return null;
    }
}
