using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>
/// Tries a profile on damaged lines: nothing that lost a character may pass for another reading, or be ignored in silence.
/// </summary>
internal static class Garbling
{
    /// <summary>A damaged line that the profile takes for something; null when there is none.</summary>
    public static string? FirstAccepted(DeviceProfile profile, Interpretation interpretation)
    {
        foreach (var reading in interpretation.Readings)
        {
            var truth = Read(profile, reading.Select(l => l.Text));
            foreach (var (at, line) in reading.Index())
            {
                foreach (var (damaged, isCut) in Damage(profile, line))
                {
                    var events = Read(profile, reading.Select((l, i) => i == at ? damaged : l.Text));
                    var taken = events.OfType<InstrumentEvent.ReadingTaken>().FirstOrDefault()?.Reading.Densities;
                    var wrong = taken is not null && taken != truth.OfType<InstrumentEvent.ReadingTaken>().First().Reading.Densities;
                    if (wrong || (events[at] is InstrumentEvent.IgnoredLine && !isCut)
                        || events[at] is InstrumentEvent.BeyondRange or InstrumentEvent.ChannelBeyondRange)
                    {
                        return damaged;
                    }
                }
            }
        }

        return null;
    }

    private static List<InstrumentEvent> Read(DeviceProfile profile, IEnumerable<string> lines)
    {
        var interpreter = new LineInterpreter(profile);
        return [.. lines.Select(l => interpreter.Interpret(RawLine.OfText(l, DateTimeOffset.UnixEpoch)))];
    }

    private static IEnumerable<(string Line, bool IsCut)> Damage(DeviceProfile profile, ReadingLine line)
    {
        var text = line.Text;
        for (var i = 0; i < text.Length; i++)
        {
            if (!char.IsWhiteSpace(text[i]) && !CannotBeSeen(profile, line, i))
            {
                yield return (text.Remove(i, 1), false);
                yield return (new StringBuilder(text) { [i] = '~' }.ToString(), false);
            }
        }

        for (var length = text.TrimEnd().Length - 1; length > 0; length--)
        {
            if (text[..length].Trim().Length > 0)
            {
                // A reading cut behind its heading may look like a heading alone.
                yield return (text[..length], true);
            }
        }
    }

    /// <summary>A lost sign shows in no format, a lost first digit only where the number of digits is fixed.</summary>
    private static bool CannotBeSeen(DeviceProfile profile, ReadingLine line, int at) =>
        line.Values.Any(v => at >= v.Span.Start && at < v.Span.End && (line.Text[at] is '+' or '-'
            || (profile.Number.WholeDigits is null && v.Span.In(line.Text).IndexOfAny(['.', ',']) is > 0 and var mark
                && at < v.Span.Start + mark)));
}
