using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Infers how an instrument writes numbers from the densities it is known to have written.</summary>
internal static class NumberHabits
{
    public static NumberFormat Of(Interpretation interpretation, int shownDecimals)
    {
        var values = interpretation.Readings.SelectMany(r => r)
            .SelectMany(l => l.Values.Select(v => (Text: v.Span.In(l.Text), Before: v.Span.Start > 0 ? l.Text[v.Span.Start - 1] : ' ')))
                .ToList();
        var mark = interpretation.Scanner.Mark;
        var decimals = values.Select(v => mark == DecimalMark.Implied ? shownDecimals : Digits(v.Text, behind: true)).Distinct().ToList();
        if (decimals is not [>= 1 and <= 4])
        {
            throw new DeclinedException("The densities on the lines do not all have the same number of decimals, from 1 to 4.");
        }

        var whole = values.Select(v => Digits(v.Text, behind: false) - (mark == DecimalMark.Implied ? decimals[0] : 0)).Distinct().ToList();
        return new NumberFormat
        {
            DecimalMark = mark,
            Decimals = decimals[0],
            WholeDigits = whole is [1 or 2] ? whole[0] : null,
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
        var mark = number.IndexOfAny(['.', ',']);
        var part = behind ? number[(mark + 1)..] : mark < 0 ? number : number[..mark];
        return part.Count(char.IsAsciiDigit);
    }
}
