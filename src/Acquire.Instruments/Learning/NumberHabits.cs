using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Infers how an instrument writes numbers from the densities it is known to have written.</summary>
internal static class NumberHabits
{
    // One in a million that so many last digits are noughts by chance.
    private const int LeastNoughts = 6;

    public static NumberFormat Of(Interpretation interpretation)
    {
        var values = interpretation.Readings.SelectMany(r => r)
            .SelectMany(l => l.Values.Select(v => (Text: v.Span.In(l.Text), Before: v.Span.Start > 0 ? l.Text[v.Span.Start - 1] : ' ')))
                .ToList();
        var scanner = interpretation.Scanner;
        var mark = scanner.Mark;
        var decimals =
            values.Select(v => mark == DecimalMark.Implied ? scanner.Decimals : Digits(v.Text, behind: true)).Distinct().ToList();
        // One number of decimals is what shows a lost digit at the end, so nothing is learned without.
        if (decimals is not [>= 1 and <= Density.MostDecimals])
        {
            throw new DeclinedException("The densities on the lines do not all have the same number of decimals, from 1 to 6.");
        }

        var exponents = values.Select(v => Exponent(v.Text)).Distinct().ToList();
        if (exponents.Count > 1)
        {
            throw new DeclinedException("The exponents on the lines do not all have the same number of digits.");
        }

        // Noughts behind what is shown may be chance on a line or two; the claim that nothing else ever stands there needs more.
        var noughts = scanner is { Shape: NumberShape.Exponent } || (!scanner.IsRounded && decimals[0] > scanner.Shown);
        if (noughts && values.Count < LeastNoughts)
        {
            throw new DeclinedException(
                $"The lines have more digits than the display, all of them noughts so far, and {values.Count} numbers do not settle "
                + $"that they always "
                + "are. Read more patches.");
        }

        var whole = values.Select(v => Digits(v.Text, behind: false) - (mark == DecimalMark.Implied ? decimals[0] : 0)).Distinct().ToList();
        return new NumberFormat
        {
            DecimalMark = mark,
            Decimals = decimals[0],
            WholeDigits = whole is [1 or 2] || (whole is [0] && scanner.Shape == NumberShape.Hexadecimal) ? whole[0] : null,
            Base = scanner.Shape == NumberShape.Hexadecimal ? 16 : 10,
            ExponentDigits = exponents[0],
            ShownDecimals = noughts ? scanner.Shown : null,
            Sign = Sign([.. values.Select(v => (v.Text[0], v.Before))]),
        };
    }

    private static SignHabit Sign(List<(char First, char Before)> values)
    {
        var plus = values.Count(v => v.First == '+');
        var unsigned = values.Where(v => v.First is not ('+' or '-')).ToList();
        return (plus, unsigned.Count) switch
        {
            ( > 0, 0) => SignHabit.Always,
            ( > 0, _) => SignHabit.Any,
            // A blank before every number may be the place of the sign; this also takes a minus that has a blank before it.
            _ when unsigned.All(v => v.Before == ' ') => SignHabit.BlankForPlus,
            _ => SignHabit.MinusOnly,
        };
    }

    private static int Digits(string number, bool behind)
    {
        var mantissa = number[..(number.Length - Tail(number))];
        var mark = mantissa.IndexOfAny(['.', ',']);
        var part = behind ? mantissa[(mark + 1)..] : mark < 0 ? mantissa : mantissa[..mark];
        return part.Count(char.IsAsciiHexDigit);
    }

    private static int? Exponent(string number) => Tail(number) is > 0 and var length ? length - 2 : null;

    /// <summary>
    /// The length of the exponent with its letter and sign; 0 where there is none. In base 16 an E is a digit, and no sign follows it.
    /// </summary>
    private static int Tail(string number) =>
        number.IndexOfAny(['E', 'e']) is > 0 and var at && at + 1 < number.Length && number[at + 1] is '+' or '-' ? number.Length - at : 0;
}
