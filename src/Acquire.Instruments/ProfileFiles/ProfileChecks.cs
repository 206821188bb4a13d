using System.Text;
using Acquire.Formats.Json;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>What the sections of a profile must keep to among themselves, which a schema cannot say.</summary>
internal static class ProfileChecks
{
    public static void Framing(FramingSettings framing, JsonFile errors)
    {
        if (framing is { LineEnd: LineEnd.None, End: null, IdleGap: null })
        {
            errors.Add("/framing", "Nothing ends a line; expected a lineEnd, an end character or idleGapMs.");
        }

        if (framing.Start is { } start && start == framing.End)
        {
            errors.Add("/framing/end", "Start and end are the same character, so it is not known which of them one is.");
        }

        foreach (var (key, value) in new[] { ("start", framing.Start), ("end", framing.End) })
        {
            if (value is 0x00 or 0x0A or 0x0C or 0x0D)
            {
                errors.Add(
                    $"/framing/{key}", "NUL, line feed, form feed and carriage return have their own meaning; use lineEnd for line ends.");
            }
        }
    }

    public static void Number(NumberFormat number, JsonFile errors)
    {
        if (number is { DecimalMark: DecimalMark.Implied, Decimals: null })
        {
            errors.Add("/number/decimals", "Implied decimals need a number; expected decimals from 1 to 6.");
        }

        foreach (var (key, message) in Contradictions(number))
        {
            errors.Add($"/number/{key}", message);
        }

        for (var i = 0; i < number.OverRange.Length; i++)
        {
            if (BeginsNumber(number.OverRange[i], number))
            {
                errors.Add(
                    FormattableString.Invariant($"/number/overRange/{i}"),
                    $"'{number.OverRange[i]}' could be the beginning of a number; expected a mark that no number begins with, or a whole "
                    + "number such as 9.99.");
            }
        }
    }

    private static IEnumerable<(string Key, string Message)> Contradictions(NumberFormat number)
    {
        if (number.Base == 16 && (number.DecimalMark != DecimalMark.Implied || number.ExponentDigits is not null))
        {
            yield return ("base", "Numbers in base 16 are whole; expected decimalMark implied and no exponentDigits.");
        }

        if (number is { WholeDigits: 0, Base: not 16 })
        {
            yield return ("wholeDigits", "Only a number in base 16 may have no digit before its decimals; expected 1, 2 or null.");
        }

        if (number.ExponentDigits is not null && (number.DecimalMark == DecimalMark.Implied || number.Decimals is null))
        {
            yield return ("exponentDigits", "A number with an exponent has a decimal mark and fixed decimals before it.");
        }

        if (number is { ExponentDigits: null, ShownDecimals: { } shown } && !(number.Decimals > shown))
        {
            yield return ("shownDecimals", "Expected fewer than decimals; leave it out where the display shows all that is sent.");
        }

        if (number is { Rounding: not Rounding.Exact, ShownDecimals: null })
        {
            yield return ("rounding", "Rounding needs shownDecimals, the decimals that are left.");
        }
    }

    public static void Assembly(IReadOnlyList<LineRule> rules, AssemblySettings? assembly, NumberFormat number, JsonFile errors)
    {
        var slots = rules.Where(r => r.Meaning == LineMeaning.Partial).SelectMany(r => RuleChecks.Slots(r, number)).ToHashSet();
        if (assembly is null)
        {
            if (slots.Count > 0)
            {
                errors.Add(
                    "/lines",
                    "Lines that mean 'channel' need an assembly; expected \"assembly\": { \"order\": [\"red\", \"green\", \"blue\"] }.");
            }

            return;
        }

        if (slots.Count == 0)
        {
            errors.Add("/assembly", "An assembly is for lines that mean 'channel', and there is no such line.");
        }
        else if (slots.Contains(LineMatch.NextSlot))
        {
            if (slots.Count > 1)
            {
                errors.Add("/lines", "{value} and named channels cannot both make up a reading; expected one or the other.");
            }
        }
        else
        {
            Differences(slots, assembly, errors);
        }
    }

    private static void Differences(HashSet<int> slots, AssemblySettings assembly, JsonFile errors)
    {
        foreach (var extra in slots.Select(s => (Channel)s).Except(assembly.Order))
        {
            errors.Add("/assembly/order", $"A line names {extra.Word()}, which the order lacks.");
        }

        foreach (var missing in assembly.Order.Where(c => !slots.Contains((int)c)))
        {
            errors.Add("/assembly/order", $"The order has {missing.Word()}, which no line names; no reading would ever be complete.");
        }
    }

    /// <summary>Whether a mark is the beginning of a number without being one, such as <c>-</c>, so that it would hide numbers.</summary>
    private static bool BeginsNumber(string mark, NumberFormat number)
    {
        var bytes = Encoding.Latin1.GetBytes(mark);
        var at = 0;
        var whole =
            new NumberReader(number with { OverRange = [] }).Read(bytes, ref at, padded: false, out _) is null && at == bytes.Length;
        var digits = mark.TrimStart('+', '-');
        return !whole && mark.Length - digits.Length <= 1
            && digits.All(c => char.IsAsciiDigit(c) || c is '.' or ',' || (number.Base == 16 && char.IsAsciiHexDigit(c)))
            && digits.Count(c => c is '.' or ',') <= 1;
    }
}
