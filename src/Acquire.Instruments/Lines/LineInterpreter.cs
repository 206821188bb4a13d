using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Says what each line is, by the rules of a profile in their order. Every line gives exactly one
/// event. It remembers the unfinished reading of instruments that send one channel per line, so one interpreter
/// serves one link, from one task at a time. Never throws.</summary>
/// <param name="profile">The profile, checked.</param>
public sealed class LineInterpreter(DeviceProfile profile)
{
    private readonly ImmutableArray<ILineMatcher> _matchers = RuleMatchers.Compile(profile);
    private readonly ReadingAssembler? _assembler = profile.Assembly is { } assembly ? new ReadingAssembler(assembly) : null;

    private readonly AnswerMatcher? _answer =
        profile.Commands.Identify is { } identify ? new AnswerMatcher(identify, profile.Number) : null;

    /// <summary>The rule that the last line fitted, from 0; −1 when none did.</summary>
    internal int LastRule { get; private set; } = -1;

    /// <summary>Interprets a line; one with a fault fits nothing.</summary>
    public InstrumentEvent Interpret(LineFrame frame)
    {
        // A line with a fault may look like a reading with a digit missing, so no rule gets to see it.
        if (frame.Fault == FrameFault.None)
        {
            return Interpret(frame.Line);
        }

        LastRule = -1;
        return Unmatched(frame.Line, UnmatchedReason.Fault(frame.Fault, profile.Framing));
    }

    /// <summary>Interprets a whole line.</summary>
    public InstrumentEvent Interpret(RawLine line)
    {
        var bytes = line.Bytes.AsSpan();
        var (nearest, nearestRule) = (default(LineMatch), -1);
        LastRule = -1;
        if (bytes.IndexOfAnyExcept((byte)' ', (byte)'\t') < 0)
        {
            return new InstrumentEvent.IgnoredLine(line);
        }

        for (var rule = 0; rule < _matchers.Length; rule++)
        {
            var match = _matchers[rule].Match(bytes);
            if (match.Fits && (match.Any || !NeedsValue(profile.Rules[rule].Meaning)))
            {
                LastRule = rule;
                return EventOf(line, profile.Rules[rule].Meaning, match);
            }

            // The rule that came furthest is the one the user meant, most of the time; its misfit is the useful message.
            if (nearestRule < 0 || match.Offset > nearest.Offset)
            {
                (nearest, nearestRule) = (match, rule);
            }
        }

        // By the profile alone, not by whether anybody asked: the journal does not say so, and must give the same lines again.
        if (_answer?.Match(bytes) is not null)
        {
            return new InstrumentEvent.IgnoredLine(line);
        }

        return Unmatched(line, UnmatchedReason.NoRule(bytes, nearestRule, profile.Rules[nearestRule], nearest));
    }

    private static bool NeedsValue(LineMeaning meaning) => meaning is LineMeaning.Reading or LineMeaning.Partial;

    private InstrumentEvent EventOf(RawLine line, LineMeaning meaning, in LineMatch match) => meaning switch
    {
        LineMeaning.Partial when _assembler is not null => _assembler.Take(line, match),
        LineMeaning.Ignored => new InstrumentEvent.IgnoredLine(line),
        LineMeaning.Reading => Whole(line, match) with { Note = Break(line) },
        LineMeaning.OverRange => new InstrumentEvent.BeyondRange(line, []) { Note = Break(line) },
        LineMeaning.Error => new InstrumentEvent.InstrumentError(line) { Note = Break(line) },
        LineMeaning.Calibration => new InstrumentEvent.CalibrationNote(line) { Note = Break(line) },
        _ => Unmatched(line, $"Profile '{profile.Name}' does not say how lines of one channel make a reading."),
    };

    private static InstrumentEvent Whole(RawLine line, LineMatch match)
    {
        var channels = Channels.All.Where(c => match.Has((int)c));
        return match.AnyBeyond
            ? new InstrumentEvent.BeyondRange(line, [.. channels.Where(c => match.IsBeyond((int)c))])
            : new InstrumentEvent.ReadingTaken(
                line,
                new Reading(
                    ChannelDensities.Of(channels.Select(c => KeyValuePair.Create(c, match.Density((int)c)))), line.ReceivedAt, [line]));
    }

    private InstrumentEvent.UnmatchedLine Unmatched(RawLine line, string reason) =>
        new(line, reason) { Note = _assembler?.Break(line, garbled: true) };

    private string? Break(RawLine line) => _assembler?.Break(line, garbled: false);
}

/// <summary>Says to the user why a line was not taken.</summary>
internal static class UnmatchedReason
{
    private const int ShownCharacters = 12;

    /// <summary>Why a line fits no rule: the rule that came furthest, where it stopped and what it expected.</summary>
    public static string NoRule(ReadOnlySpan<byte> line, int rule, LineRule nearest, in LineMatch match)
    {
        var rest = line[Math.Min(match.Offset, line.Length)..];
        var found = rest.IsEmpty ? "the line ends" : $"found '{RawLine.Printable(rest[..Math.Min(rest.Length, ShownCharacters)])}'";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"Nearest is line rule {rule + 1}, '{nearest.Template?.Text ?? nearest.Pattern}': at character {match.Offset + 1} expected "
            + $"{match.Expected}, {found}.");
    }

    /// <summary>Why a line was not even looked at.</summary>
    public static string Fault(FrameFault fault, FramingSettings framing) => fault switch
    {
        FrameFault.TooLong => FormattableString.Invariant(
            $"No line end within {framing.MaxLength} bytes; the line was cut. Check the rate, and the line end in the profile."),
        FrameFault.OutsideFrame => FormattableString.Invariant(
            $"It came outside start and end; a line begins with byte 0x{framing.Start:X2}."),
        FrameFault.CutByStart => "A new line began before this one ended; characters were lost. Read the patch again.",
        FrameFault.Unfinished => "The link ended before the line did. Read the patch again.",
        _ => throw new ArgumentOutOfRangeException(nameof(fault), fault, null),
    };
}
