using System.Text;
using System.Text.RegularExpressions;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>What speaks against a profile although it reads the whole capture as shown.</summary>
internal static partial class Doubts
{
    /// <summary>Why the profile may be wrong, in words for the user; null when nothing says so.</summary>
    public static string? About(LearningInput input, Capture capture, Interpretation interpretation, DeviceProfile profile) =>
        Elsewhere(input, capture, interpretation)
            ?? Unsteady(input, interpretation) ?? profile.Rules.Select(r => WrongLabel(r.Template!)).FirstOrDefault(d => d is not null);

    /// <summary>A channel whose values stand a second time beside every reading: which of the two is the channel cannot be known.</summary>
    private static string? Elsewhere(LearningInput input, Capture capture, Interpretation interpretation)
    {
        var readings = interpretation.Readings;
        var shown = input.Shown.Where(s => s.IsWhole).ToList();
        var others = readings.Select((_, i) => Unused(capture, interpretation, i)).ToList();
        var channel = Enumerable.Range(0, input.Channels.Length)
            .FirstOrDefault(c => readings.Select((_, i) => others[i].Any(v => interpretation.Scanner.Shows(v, shown[i].Values[c]!.Value)))
                .All(found => found), -1);
        return channel < 0
            ? null
            : $"What was shown for {input.Channels[channel].Word()} stands in more than one place beside every reading, so it cannot be "
                + $"known which is {input.Channels[channel].Word()}. Read a patch on which they differ, or give all channels with "
                + "--channels.";
    }

    /// <summary>
    /// Numbers with more decimals than the display of which some were rounded and some cut: then they are not what it shows.
    /// </summary>
    private static string? Unsteady(LearningInput input, Interpretation interpretation)
    {
        var pairs = input.Shown.Where(s => s.IsWhole).Zip(interpretation.Readings).SelectMany(r => r.Second.SelectMany(l => l.Values)
            .Select(v => (Sent: v.Span.Value, Shown: r.First.Values[input.Channels.IndexOf(v.Channel)]!.Value))).ToList();
        var scanner = interpretation.Scanner;
        return !scanner.IsRounded || pairs.All(p => scanner.IsNearest(p.Sent, p.Shown)) || pairs.All(p => scanner.IsCut(p.Sent, p.Shown))
            ? null
            : "The lines have more decimals than the display, and what was shown is neither always the nearest nor always cut off. "
                + "Check what was "
                + "typed; type all decimals.";
    }

    /// <summary>The values around a reading that the interpretation does not use.</summary>
    private static HashSet<decimal> Unused(Capture capture, Interpretation interpretation, int reading)
    {
        var readings = interpretation.Readings;
        var from = reading > 0 ? readings[reading - 1][^1].Index + 1 : 0;
        var to = reading + 1 < readings.Length ? readings[reading + 1][0].Index : capture.Lines.Length;
        var used = readings[reading].SelectMany(l => l.Values.Select(v => (l.Index, v.Span))).ToHashSet();
        return [.. Enumerable.Range(from, to - from)
            .SelectMany(i => interpretation.Scanner.Scan(capture.Lines[i]).Where(s => !used.Contains((i, s)))).Select(s => s.Value)];
    }

    /// <summary>A label that names another channel than the one read there; only where labels stand before their values.</summary>
    private static string? WrongLabel(LineTemplate template)
    {
        var labels = template.Parts.Index().Where(p => p.Item is TemplatePart.ChannelValue)
            .Select(p => (((TemplatePart.ChannelValue)p.Item).Channel, Label: Label(template.Parts, p.Index))).ToList();
        return labels is [{ Label: not null }, ..]
            && labels.FirstOrDefault(l => l.Label is { } label && label != l.Channel) is { Label: { } named } wrong
            ? $"The line says {named.Letter()} where {wrong.Channel.Word()} was shown. Check the order of the shown values, and --channels."
            : null;
    }

    private static Channel? Label(ImmutableArray<TemplatePart> parts, int index)
    {
        var before = parts.Take(index).LastOrDefault(p => p is not TemplatePart.Blanks) as TemplatePart.Literal;
        return LabelWord().Match(before?.Text ?? "") is { Success: true } found && Channels.TryParse(found.Groups[1].Value, out var channel)
            ? channel
            : null;
    }

    [GeneratedRegex(@"(?:^|[^A-Za-z])D?\(?(R|G|B|V|RED|GREEN|BLUE|VISUAL|VIS)\)?[^A-Za-z0-9]*$", RegexOptions.IgnoreCase)]
    private static partial Regex LabelWord();
}

/// <summary>Tries a profile on damaged lines: nothing that lost a character may
/// pass for another reading, or be ignored in silence.</summary>
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
                    // A damaged line that fits nothing is read again; one that passes for another reading is kept for years.
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
