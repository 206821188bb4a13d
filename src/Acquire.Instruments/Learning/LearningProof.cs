using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Reads the whole capture again with the profile that was made of it.</summary>
internal static class LearningProof
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(1);

    /// <summary>Every line of the capture as an event.</summary>
    public static ImmutableArray<InstrumentEvent> Replay(DeviceProfile profile, Capture capture) =>
        Events(profile, capture.Frames(profile.Link.MaskTopBit, profile.Framing));

    /// <summary>Every line of bytes without times as an event.</summary>
    public static ImmutableArray<InstrumentEvent> Replay(DeviceProfile profile, ReadOnlySpan<byte> bytes)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        return Events(profile, framer.Push(bytes, DateTimeOffset.UnixEpoch).Concat(framer.Finish()));
    }

    private static ImmutableArray<InstrumentEvent> Events(DeviceProfile profile, IEnumerable<LineFrame> frames)
    {
        var interpreter = new LineInterpreter(profile);
        return [.. frames.Select(
            (f, i) => interpreter.Interpret(f with { Line = f.Line with { ReceivedAt = DateTimeOffset.UnixEpoch + (i * Step) } }))];
    }

    /// <summary>Why the events are not what was shown; null when they are.</summary>
    public static string? Objection(LearningInput input, ImmutableArray<InstrumentEvent> events)
    {
        if (events.FirstOrDefault(e => e is InstrumentEvent.UnmatchedLine) is InstrumentEvent.UnmatchedLine unmatched)
        {
            return $"The line '{unmatched.Line.Text}' fits nothing. {unmatched.Reason}";
        }

        var marked = input.Shown.Any(s => !s.IsWhole);
        var read = events.Where(e => e is InstrumentEvent.ReadingTaken || (marked && e is InstrumentEvent.BeyondRange)).ToList();
        if (read.Count != input.Shown.Length)
        {
            return $"The capture holds {read.Count} readings, and {input.Shown.Length} were shown. Give what the display showed for "
                + "each, in order.";
        }

        var wrong = Enumerable.Range(0, read.Count).FirstOrDefault(i => !Same(input, input.Shown[i], read[i]), -1);
        return wrong < 0
            ? null
            : $"Reading {wrong + 1} was shown as {input.Shown[wrong]}, and the line '{read[wrong].Line.Text}' gives something else.";
    }

    private static bool Same(LearningInput input, ShownReading shown, InstrumentEvent taken) => taken switch
    {
        InstrumentEvent.ReadingTaken { Reading.Densities: var read } =>
            shown.IsWhole && read.Present.Length == input.Channels.Length
            && input.Channels.Select((c, i) => read[c]?.Value == shown.Values[i]!.Value.Value).All(same => same),
        InstrumentEvent.BeyondRange { Channels: var beyond } =>
            !shown.IsWhole && (beyond.IsEmpty || input.Channels.Where((_, i) => shown.Values[i] is null).ToHashSet().SetEquals(beyond)),
        _ => false,
    };
}
