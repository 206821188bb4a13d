using System.Text.RegularExpressions;

namespace Acquire.Instruments.Learning;

/// <summary>Sees on all lines together what touches the densities and varies with them, and puts one character for it that stands on no
/// line, so that the words around are compared without it.</summary>
internal static partial class GapMarks
{
    private const char Leader = '\uE000';
    private const char Letter = '\uE001';

    // A number that touches a density is told from it by its width only.
    private const char NoNumber = '\uE100';
    private const int Widest = 64;

    public static List<ReadingLine> Put(IEnumerable<ReadingLine> lines)
    {
        var all = lines.Select(
            l => l with { Gaps = [.. l.Gaps.Select((g, i) => i == l.Gaps.Length - 1 ? g : Leaders().Replace(g, Leader + "$2"))] })
            .ToList();
        var count = all[0].Values.Length;
        for (var i = 0; i < count; i++)
        {
            all = Numbers(all, i);
        }

        // Where the letter behind one density varies, the others have one of the same kind, whatever it was on the few lines seen.
        var lettered = Enumerable.Range(1, count).Where(i => all.All(l => OneLetter().IsMatch(l.Gaps[i]))).ToList();
        return lettered.Any(i => all.Select(l => l.Gaps[i][0]).Distinct().Count() > 1)
            ? [.. all.Select(l => l with { Gaps = [.. l.Gaps.Select((g, i) => lettered.Contains(i) ? Letter + g[1..] : g)] })]
            : all;
    }

    /// <summary>Whether a gap ends in a number that touches the density behind it.</summary>
    public static bool EndsInNumber(string gap) => gap is [.., >= NoNumber and <= (char)(NoNumber + Widest)];

    public static string Places(string template) => Marks().Replace(template, m => m.Value[0] switch
    {
        Leader => "{leader}",
        Letter => "{letter}",
        var width => FormattableString.Invariant($"{{number:{width - NoNumber}}}"),
    });

    private static List<ReadingLine> Numbers(List<ReadingLine> lines, int gap)
    {
        var found = lines.Select(l => Digits().Match(l.Gaps[gap])).ToList();
        if (!found.All(m => m.Success))
        {
            return lines;
        }

        // Filled with noughts it is as long as its digits, filled with blanks as long as both.
        var digits = found.Select(m => m.Groups[1].Length).Distinct().ToList();
        var both = found.Select(m => m.Length).Distinct().ToList();
        var blanks = both.Count == 1 && both[0] > digits.Min() && !found.TrueForAll(m => m.Groups[1].Value[0] == '0');
        return blanks && both[0] <= Widest ? Put(m => m.Length)
            : digits.Count == 1 && digits[0] <= Widest ? Put(m => m.Groups[1].Length)
            : lines;

        List<ReadingLine> Put(Func<Match, int> width) =>
            [.. lines.Select(
                (l, n) => l with { Gaps = l.Gaps.SetItem(gap, l.Gaps[gap][..^width(found[n])] + (char)(NoNumber + width(found[n]))) })];
    }

    [GeneratedRegex(@"([._])\1{2,}( *)$")]
    private static partial Regex Leaders();

    [GeneratedRegex("^[A-Za-z](?![A-Za-z0-9])")]
    private static partial Regex OneLetter();

    [GeneratedRegex(" *([0-9]+)$")]
    private static partial Regex Digits();

    [GeneratedRegex("[\uE000\uE001\uE100-\uE140]")]
    private static partial Regex Marks();
}
