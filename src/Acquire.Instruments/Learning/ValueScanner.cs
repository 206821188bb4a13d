using System.Text.RegularExpressions;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Finds everything on a line that could be a density, written in one way.</summary>
internal sealed partial record ValueScanner
{
    private const int LongestPlain = 8;

    public required DecimalMark Mark { get; init; }

    /// <summary>The decimals that the display shows.</summary>
    public required int Shown { get; init; }

    /// <summary>The implied decimals on the line, where the mark is implied.</summary>
    public int Decimals { get; init; }

    /// <summary>How numbers are told from what stands around them.</summary>
    public NumberShape Shape { get; init; }

    /// <summary>Whether the line has more decimals than the display, which rounds or cuts them.</summary>
    public bool IsRounded { get; init; }

    /// <summary>The numbers of a line, from left to right, none within another.</summary>
    public IEnumerable<ValueSpan> Scan(string line) => Places(line).Select(p => Span(line, p.Start, p.Length)).OfType<ValueSpan>();

    /// <summary>Whether a number on the line may be what the display shows.</summary>
    public bool Shows(decimal sent, Density shown) => sent == shown.Value || (IsRounded && (IsNearest(sent, shown) || IsCut(sent, shown)));

    /// <summary>Whether the display shows the nearest that it can, halves to either side.</summary>
    public bool IsNearest(decimal sent, Density shown) => Math.Abs(sent - shown.Value) * Powers.Of(Shown) <= 0.5m;

    /// <summary>Whether the display cuts off what it has no room for.</summary>
    public bool IsCut(decimal sent, Density shown) => decimal.Truncate(sent * Powers.Of(Shown)) == shown.Value * Powers.Of(Shown);

    private IEnumerable<(int Start, int Length)> Places(string line) => Shape switch
    {
        NumberShape.Packed when Mark == DecimalMark.Implied => Cells(line),
        NumberShape.Packed => Spans(
            Regex.Matches(line, FormattableString.Invariant($"[0-9]{Sign}[0-9]{{{Shown}}}(?=(?:[0-9]{Sign}[0-9]{{{Shown}}})*(?![0-9]))"))),
        NumberShape.Exponent => Spans((Mark == DecimalMark.Point ? PointExponent() : CommaExponent()).Matches(line)),
        NumberShape.Hexadecimal => Spans(HexClump().Matches(line)),
        _ => Spans((Mark == DecimalMark.Point ? PointClump() : Mark == DecimalMark.Comma ? CommaClump() : DigitClump()).Matches(line)),
    };

    private string Sign => Mark == DecimalMark.Point ? @"\." : ",";

    private static IEnumerable<(int Start, int Length)> Spans(MatchCollection found) => found.Select(m => (m.Index, m.Length));

    /// <summary>Runs of digits cut from their end into numbers of one whole digit; what is left in front is no density.</summary>
    private IEnumerable<(int Start, int Length)> Cells(string line)
    {
        var length = Decimals + 1;
        foreach (Match run in DigitRun().Matches(line))
        {
            for (var at = run.Index + (run.Length % length); at < run.Index + run.Length; at += length)
            {
                yield return (at, length);
            }
        }
    }

    private ValueSpan? Span(string line, int start, int length)
    {
        if (Value(line.Substring(start, length)) is not { } value)
        {
            return null;
        }

        var sign = start > 0 ? line[start - 1] : ' ';
        return sign is '+' or '-'
            ? new ValueSpan(start - 1, length + 1, sign == '-' ? -value : value)
            : new ValueSpan(start, length, value);
    }

    private decimal? Value(string clump)
    {
        var text = clump.Replace(',', '.');
        if (Shape == NumberShape.Hexadecimal)
        {
            return long.Parse(text, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture) / Powers.Of(Decimals);
        }

        var isNumber = Mark == DecimalMark.Implied ? text.All(char.IsAsciiDigit) : text.Count(c => c == '.') == 1;
        var isLong = Shape != NumberShape.Exponent && text.Length > LongestPlain;
        const NumberStyles Style = NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;
        if (!isNumber || isLong || !decimal.TryParse(text, Style, CultureInfo.InvariantCulture, out var value))
        {
            return null;
        }

        var sent = Mark == DecimalMark.Implied ? Decimals : text.Length - text.IndexOf('.') - 1;
        return IsRounded && sent <= Shown ? null : Mark == DecimalMark.Implied ? value / Powers.Of(Decimals) : value;
    }

    // A clump is as long as digits and marks go on, so that a date such as 12.03.2026 is one clump and no density.
    [GeneratedRegex(@"\.?[0-9]+(?:\.[0-9]+)*")]
    private static partial Regex PointClump();

    [GeneratedRegex(@",?[0-9]+(?:,[0-9]+)*")]
    private static partial Regex CommaClump();

    [GeneratedRegex(@"[0-9]{1,2}(?::[0-9]{2})+(?![0-9])|[0-9]+(?:[./][0-9]+)*")]
    private static partial Regex DigitClump();

    [GeneratedRegex("[0-9]+")]
    private static partial Regex DigitRun();

    [GeneratedRegex(@"[0-9]{1,2}\.[0-9]{1,6}[Ee][+-][0-9]{1,3}(?![0-9])")]
    private static partial Regex PointExponent();

    [GeneratedRegex("[0-9]{1,2},[0-9]{1,6}[Ee][+-][0-9]{1,3}(?![0-9])")]
    private static partial Regex CommaExponent();

    [GeneratedRegex("(?<![0-9A-Fa-f])[0-9A-Fa-f]{2,5}(?![0-9A-Za-z])")]
    private static partial Regex HexClump();
}

/// <summary>How numbers are told from what stands around them.</summary>
internal enum NumberShape
{
    /// <summary>They are as long as digits and marks go on.</summary>
    Clump,

    /// <summary>They have one whole digit and the display's decimals, whatever touches them.</summary>
    Packed,

    Exponent,
    Hexadecimal,
}

/// <summary>A place on a line where something like a density stands.</summary>
/// <param name="Start">The first character, sign included.</param>
/// <param name="Length">Characters, sign included.</param>
internal readonly record struct ValueSpan(int Start, int Length, decimal Value)
{
    public int End => Start + Length;

    public string In(string line) => line.Substring(Start, Length);
}

internal static class Powers
{
    public static decimal Of(int exponent) => Enumerable.Repeat(10m, exponent).Aggregate(1m, (a, b) => a * b);
}
