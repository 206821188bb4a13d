using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Says to the user why a line was not taken.</summary>
internal static class UnmatchedReason
{
    private const int ShownCharacters = 12;

    /// <summary>Why a line fits no rule: the rule that came furthest, where it stopped and what it expected.</summary>
    public static string NoRule(ReadOnlySpan<byte> line, int rule, LineRule nearest, in LineMatch match)
    {
        var rest = line[Math.Min(match.Offset, line.Length)..];
        var found = rest.IsEmpty
            ? "the line ends"
            : $"found '{RawLine.Printable(rest[..Math.Min(rest.Length, ShownCharacters)])}'";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Nearest is line rule {rule + 1}, '{nearest.Template?.Text ?? nearest.Pattern}': "
            + $"at character {match.Offset + 1} expected {match.Expected}, {found}.");
    }

    /// <summary>Why a line was not even looked at.</summary>
    public static string Fault(FrameFault fault, FramingSettings framing) => fault switch
    {
        FrameFault.TooLong => string.Create(
            CultureInfo.InvariantCulture,
            $"No line end within {framing.MaxLength} bytes; the line was cut. Check the rate, and the line end in the profile."),
        FrameFault.OutsideFrame => string.Create(
            CultureInfo.InvariantCulture, $"It came outside start and end; a line begins with byte 0x{framing.Start:X2}."),
        FrameFault.CutByStart => "A new line began before this one ended; characters were lost. Read the patch again.",
        FrameFault.Unfinished => "The link ended before the line did. Read the patch again.",
        _ => throw new ArgumentOutOfRangeException(nameof(fault), fault, null),
    };
}
