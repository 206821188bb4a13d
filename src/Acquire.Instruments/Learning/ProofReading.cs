using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>What a profile makes of a burst that it was not learned from.</summary>
/// <param name="Densities">The only reading in it; null when there is none, or something else that the profile does not know.</param>
/// <param name="Trouble">Why there is none, in words; empty when there is one.</param>
internal sealed record ProofReading(ChannelDensities? Densities, string Trouble)
{
    /// <summary>Reads a burst as the program will: by line ends, and by the silence after it where pauses end lines.</summary>
    public static ProofReading Of(DeviceProfile profile, Burst burst)
    {
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        List<LineFrame> frames = [.. burst.Chunks.SelectMany(c => framer.Push(c.Bytes.AsSpan(), c.At))];
        frames.AddRange(framer.Flush(burst.Chunks[^1].At + (profile.Framing.IdleGap ?? TimeSpan.Zero)));
        var events = frames.Select(interpreter.Interpret).ToImmutableArray();
        var readings = events.OfType<InstrumentEvent.ReadingTaken>().ToList();
        return events.OfType<InstrumentEvent.UnmatchedLine>().FirstOrDefault() is { } unmatched ? None(
            $"the line '{unmatched.Line.Text}' fits nothing. {unmatched.Reason}")
            : framer.HasPending ? None("its last line does not end.")
            : readings is [var only] ? new ProofReading(only.Reading.Densities, "")
            : events.Any(e => e is InstrumentEvent.BeyondRange) ? None("it is beyond the instrument's range.")
            : None(FormattableString.Invariant($"it holds {readings.Count} readings; one press should give one."));
    }

    private static ProofReading None(string trouble) => new(null, trouble);
}
