using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>The ways in which an instrument may write what its display shows.</summary>
internal static class WritingWays
{
    private const int MostImplied = 4;

    /// <summary>Fewer decimals than this are shown by too many numbers when they may be rounded.</summary>
    private const int LeastToRound = 2;

    /// <summary>The ways in groups. One group is tried to its end before the next, as each asks for a stranger instrument than the one
    /// before; within a group nothing speaks for one way against another but the lines.</summary>
    /// <param name="shown">The decimals that the display shows.</param>
    public static IEnumerable<ImmutableArray<ValueScanner>> Of(int shown)
    {
        // The mark is not known yet: 1,26 may be one density or two numbers, and 126 a density whose mark is left out.
        var implied = shown is >= 1 and <= MostImplied;
        ValueScanner point = new() { Mark = DecimalMark.Point, Shown = shown }, comma = point with { Mark = DecimalMark.Comma };
        var whole = point with { Mark = DecimalMark.Implied, Decimals = shown };
        yield return [point, comma, .. Where(implied, whole)];
        if (!implied)
        {
            yield break;
        }

        yield return [.. new[] { point, comma, whole }.Select(s => s with { Shape = NumberShape.Packed })];
        yield return
        [
            .. new[] { point, comma }.Select(s => s with { Shape = NumberShape.Exponent }),
            whole with { Decimals = shown + 1 }, whole with { Decimals = shown + 2 },
            whole with { Shape = NumberShape.Hexadecimal },
        ];
        if (shown >= LeastToRound)
        {
            yield return
            [
                point with { IsRounded = true }, comma with { IsRounded = true },
                whole with { IsRounded = true, Decimals = shown + 1 }, whole with { IsRounded = true, Decimals = shown + 2 },
            ];
        }
    }

    /// <summary>The shown values that stand nowhere on the lines, in whatever way they may be written.</summary>
    public static ImmutableArray<Density> Absent(IEnumerable<Density> values, IReadOnlyCollection<string> lines, int shown)
    {
        var seen = Of(shown).SelectMany(g => g).Select(s => (Scanner: s, Values: lines.SelectMany(s.Scan).Select(v => v.Value).ToHashSet()))
            .ToList();
        return [.. values.Where(
            v => !seen.Any(w => w.Values.Contains(v.Value) || (w.Scanner.IsRounded && w.Values.Any(s => w.Scanner.Shows(s, v)))))
            .Distinct()];
    }

    private static IEnumerable<ValueScanner> Where(bool condition, ValueScanner scanner) => condition ? [scanner] : [];
}
