using System.Text.RegularExpressions;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes rules for the lines that hold no reading: headers, footers, messages.</summary>
internal static partial class OtherLines
{
    /// <summary>A rule for each kind of line.</summary>
    /// <exception cref="DeclinedException">A rule would also take lines that are readings.</exception>
    public static ImmutableArray<LineRule> Rules(IEnumerable<string> lines) =>
        [.. lines.GroupBy(Kind).Select(g => Rule([.. g.Distinct()])).DistinctBy(r => r.Template!.Text)];

    private static string Kind(string line)
    {
        var words = TextGeneralizer.Words(line);
        return FormattableString.Invariant($"{words.Length} {Digits().Replace(words[0], "0")}");
    }

    private static LineRule Rule(ImmutableArray<string> lines)
    {
        var template = TextGeneralizer.Of(lines);
        return Places().Replace(template, "").Trim().Length == 0
            ? throw new DeclinedException(
                $"The line '{lines[0].Trim()}' holds nothing but what varies; a rule that ignores it would ignore readings too. "
                + "If it belongs to the reading, give all channels of the display with --channels.")
            : new LineRule(Meaning(lines[0]), LineTemplate.Parse(template), null);
    }

    private static LineMeaning Meaning(string line) =>
        Error().IsMatch(line) ? LineMeaning.Error
        : Calibration().IsMatch(line) ? LineMeaning.Calibration
        : Beyond().IsMatch(line) ? LineMeaning.OverRange
        : LineMeaning.Ignored;

    [GeneratedRegex("[+-]?[0-9]*[.,]?[0-9]+")]
    private static partial Regex Digits();

    [GeneratedRegex(@"\{[a-z]+\}")]
    private static partial Regex Places();

    [GeneratedRegex(@"^\W*(?:err|error|fault|fail|lamp)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Error();

    [GeneratedRegex(@"^\W*(?:cal|calib|calibrate|calibrating|calibration|zero|zeroing)\b", RegexOptions.IgnoreCase)]
    private static partial Regex Calibration();

    [GeneratedRegex(@"\bover[ -]?(?:range|load)?\s*$|\b(?:beyond|out of) range\b", RegexOptions.IgnoreCase)]
    private static partial Regex Beyond();
}
