namespace Acquire.Analysis.Plausibility;

/// <summary>One value of one patch is not what the instrument would show: a slip of the one who typed it, a damaged line. It may be
/// anything, and the rest of the strip must be what a process does.</summary>
internal sealed class CellHypotheses(StripModel model, HypothesisTest test)
{
    // Of strips, that one of their values is wrong: some in a thousand values are mistyped, and fewer come wrong over a line; common
    // practice, no source.
    private const double TypedPrior = 0.10;
    private const double SentPrior = 0.06;

    // Where the wrong value lies about the aim, in density.
    private const double Size = 0.5;

    /// <summary>Each value of a patch may be the wrong one.</summary>
    public IEnumerable<Hypothesis> Of(StripData data, int slot)
    {
        // Of one value nothing tells whether it is wrong.
        if (data.Cells.Length < 2)
        {
            yield break;
        }

        foreach (var (cell, index) in data.Cells.Select((c, i) => (c, i)).Where(c => c.c.Slot == slot))
        {
            var name = $"{model.Patches[slot].Name} {cell.Channel.Word()}";
            yield return new Hypothesis(
                $"cell {slot} {cell.Channel.Letter()}", SuspicionKind.WrongValue,
                (cell.Typed ? TypedPrior : SentPrior) / model.Cells.Length, [slot],
                $"{name} goes with none of the other values.",
                new Remedy.ReadPatchAgain([model.Patches[slot].Key], $"its {cell.Channel.Word()} value went with none of the others"),
                d => Explanation.Reads(d, model, c => c) is { } plain ? Anything(plain, d, index) : null)
            {
                Say = () => Say(name, data, index),
            };
        }
    }

    private Explanation Anything(Explanation plain, StripData data, int index)
    {
        var weights = plain.Weights.Clone();
        weights.ClearRow(index);
        var only = new double[data.Cells.Length];
        only[index] = 1;
        return new Explanation(weights)
        {
            Shift = [.. only.Select(o => o * model.AimOf(data.Cells[index]))],
            Errors = [[.. only.Select(o => o * Size)]],
        };
    }

    private string Say(string name, StripData data, int index)
    {
        var cell = data.Cells[index];
        var meant = ValueMeant.Of(
            data.Values[index], cell.Step, cell.Typed && cell.Reads == 1,
            value => test.Unnamed(data with { Values = data.Values.With(index, value) }).LogDensity);
        var digits = cell.Step < 0.005 ? "0.000" : "0.00";
        string Shown(double value) => value.ToString(digits, CultureInfo.InvariantCulture).Replace('-', '\u2212');
        return $"{name} {Shown(data.Values[index])} goes with none of the other values: "
            + (meant.Slip is { } slip
                ? $"was {Shown(slip)} meant? If not, read {model.Patches[cell.Slot].Name} again?"
                : $"about {Shown(meant.Expected)} would. Read {model.Patches[cell.Slot].Name} again?");
    }
}

/// <summary>What a value should have been.</summary>
/// <param name="Expected">The value that goes best with the others.</param>
/// <param name="Slip">One that goes with the others and becomes the one that was typed by a usual slip; null for none.</param>
internal readonly record struct ValueMeant(double Expected, double? Slip)
{
    private const double Least = -0.2;
    private const double Most = 4.4;
    private const double Coarse = 0.05;
    private const double Fine = 0.01;

    // A candidate goes with the others when it is not less likely than the best value by more than this: some 2.5 standard deviations.
    private const double Margin = 3;

    // How often a slip is this one, against one digit hit for another; rough.
    private const double Exchanged = 0.3;
    private const double OtherDigit = 0.5 / 27;
    private const double Shifted = 0.1 / 10;

    /// <summary>Finds it.</summary>
    /// <param name="typed">The value as it stands.</param>
    /// <param name="step">The last digit it was given with.</param>
    /// <param name="byHand">Whether a slip of typing may have made it.</param>
    /// <param name="fit">How well a value goes with the others: logarithm of a density.</param>
    public static ValueMeant Of(double typed, double step, bool byHand, Func<double, double> fit)
    {
        var rough = Best(Least, Most, Coarse, fit).Value;
        var (best, expected) = Best(rough - Coarse, rough + Coarse, Fine, fit);
        var slip = byHand
            ? Slips(typed, step)
                .Select(s => (Fit: fit(s.Value), s.Value, s.Share))
                .Where(s => s.Fit >= best - Margin)
                .OrderByDescending(s => s.Fit + Math.Log(s.Share))
                .Select(s => (double?)s.Value)
                .FirstOrDefault()
            : null;
        return new ValueMeant(expected, slip);
    }

    private static (double Fit, double Value) Best(double from, double to, double step, Func<double, double> fit) => Enumerable
        .Range(0, (int)Math.Round((to - from) / step) + 1)
        .Select(i => from + (i * step))
        .Select(v => (fit(v), v))
        .MaxBy(v => v.Item1);

    /// <summary>Values that a slip turns into the one that was typed: two digits exchanged, one digit wrong, the point a place off, the
    /// sign wrong.</summary>
    internal static IEnumerable<(double Value, double Share)> Slips(double typed, double step)
    {
        var whole = (long)Math.Round(Math.Abs(typed) / step);
        var places = Math.Max(0, (int)Math.Round(-Math.Log10(step)));
        var digits = whole.ToString(CultureInfo.InvariantCulture).PadLeft(places + 1, '0').ToCharArray();
        for (var i = 0; i < digits.Length; i++)
        {
            if (i + 1 < digits.Length && digits[i] != digits[i + 1])
            {
                yield return (Value(digits.With(i, digits[i + 1]).With(i + 1, digits[i])), Exchanged);
            }

            for (var d = '0'; d <= '9'; d++)
            {
                if (d != digits[i])
                {
                    yield return (Value(digits.With(i, d)), OtherDigit);
                }
            }
        }

        for (var last = 0; last < 10; last++)
        {
            yield return ((whole * 10 * step) + (last * step), Shifted);
        }

        yield return (Math.Round(whole / 10.0) * step, Shifted);
        if (typed < 0)
        {
            yield return (-typed, Exchanged);
        }

        double Value(char[] of) => long.Parse(of, NumberStyles.None, CultureInfo.InvariantCulture) * step;
    }
}

file static class Arrays
{
    /// <summary>A copy with one element replaced.</summary>
    public static T[] With<T>(this T[] all, int index, T value)
    {
        var copy = (T[])all.Clone();
        copy[index] = value;
        return copy;
    }
}
