using System.Text.RegularExpressions;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Finds everything on a line that could be a density, written with one decimal mark.</summary>
/// <param name="mark">The decimal mark.</param>
/// <param name="decimals">The implied decimals, where the mark is implied.</param>
internal sealed partial class ValueScanner(DecimalMark mark, int decimals)
{
    public DecimalMark Mark => mark;

    public ImmutableArray<ValueSpan> Scan(string line) =>
        [.. Clumps(mark).Matches(line).Select(m => Span(line, m.Index, m.Length)).OfType<ValueSpan>()];

    private static Regex Clumps(DecimalMark mark) => mark switch
    {
        DecimalMark.Point => PointClump(),
        DecimalMark.Comma => CommaClump(),
        _ => DigitClump(),
    };

    // A clump is as long as digits and marks go on, so that a date such as 12.03.2026 is one clump and no density.
    [GeneratedRegex(@"\.?[0-9]+(?:\.[0-9]+)*")]
    private static partial Regex PointClump();

    [GeneratedRegex(@",?[0-9]+(?:,[0-9]+)*")]
    private static partial Regex CommaClump();

    [GeneratedRegex(@"[0-9]{1,2}(?::[0-9]{2})+(?![0-9])|[0-9]+(?:[./][0-9]+)*")]
    private static partial Regex DigitClump();

    private ValueSpan? Span(string line, int start, int length)
    {
        var clump = line.Substring(start, length);
        var digits = clump.Replace(',', '.');
        var isNumber = mark == DecimalMark.Implied ? clump.All(char.IsAsciiDigit) : digits.Count(c => c == '.') == 1;
        if (!isNumber || !decimal.TryParse(digits, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value)
            || clump.Length > 8)
        {
            return null;
        }

        value = mark == DecimalMark.Implied ? value / Power(decimals) : value;
        var sign = start > 0 ? line[start - 1] : ' ';
        return sign is '+' or '-'
            ? new ValueSpan(start - 1, length + 1, sign == '-' ? -value : value)
            : new ValueSpan(start, length, value);
    }

    private static decimal Power(int exponent) => Enumerable.Repeat(10m, exponent).Aggregate(1m, (a, b) => a * b);
}

/// <summary>A place on a line where something like a density stands.</summary>
/// <param name="Start">The first character, sign included.</param>
/// <param name="Length">Characters, sign included.</param>
internal readonly record struct ValueSpan(int Start, int Length, decimal Value)
{
    public int End => Start + Length;

    public string In(string line) => line.Substring(Start, Length);
}
