using System.Text;
using System.Text.RegularExpressions;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>A rule written as a regular expression, on the engine whose time grows with the line's length only. It must fit the whole line
/// but for blanks at its ends. Groups named red, green, blue, visual and value hold densities in the profile's number format.</summary>
internal sealed class PatternMatcher : ILineMatcher
{
    private readonly NumberReader _numbers;
    private readonly Regex _regex;
    private readonly ImmutableArray<(int Slot, int Group)> _groups;

    /// <exception cref="ArgumentException">The pattern is no regular expression.</exception>
    /// <exception cref="NotSupportedException">The pattern needs a way back: look-around, back-references and the like.</exception>
    public PatternMatcher(string pattern, NumberFormat number)
    {
        _numbers = new NumberReader(number);
        // Parsed alone first: the wrapping below must not make a pattern whole that is not, such as one with a stray ')'.
        _ = new Regex(pattern, RegexOptions.NonBacktracking | RegexOptions.CultureInvariant);
        _regex = new Regex($@"\A[ \t]*(?:{pattern})[ \t]*\z", RegexOptions.NonBacktracking | RegexOptions.CultureInvariant);
        _groups = [.. _regex.GetGroupNames().Select(n => (Slot: SlotOf(n), Group: _regex.GroupNumberFromName(n))).Where(g => g.Slot >= 0)];
    }

    /// <summary>The slots that the pattern's groups fill.</summary>
    public IEnumerable<int> Slots => _groups.Select(g => g.Slot);

    /// <summary>Named groups that are no place.</summary>
    public IEnumerable<string> UnknownGroups => _regex.GetGroupNames().Where(n => !char.IsAsciiDigit(n[0]) && SlotOf(n) < 0);

    public LineMatch Match(ReadOnlySpan<byte> line)
    {
        var match = default(LineMatch);
        var found = _regex.Match(Encoding.Latin1.GetString(line));
        if (!found.Success)
        {
            match.Miss(0, "a line that fits the pattern");
            return match;
        }

        foreach (var (slot, number) in _groups)
        {
            var group = found.Groups[number];
            if (group.Success
                && !FieldReader.Take(line.Slice(group.Index, group.Length), slot, _numbers, padded: false, group.Index, ref match))
            {
                return match;
            }
        }

        return match;
    }

    private static int SlotOf(string group) => group switch
    {
        "red" => (int)Channel.Red,
        "green" => (int)Channel.Green,
        "blue" => (int)Channel.Blue,
        "visual" => (int)Channel.Visual,
        "value" => LineMatch.NextSlot,
        _ => -1,
    };
}
