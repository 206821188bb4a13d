using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>Makes samples of the captured lines: every reading, and one line of everything else; and what must not fit.</summary>
internal static class SampleMaker
{
    public static ImmutableArray<ProfileSample> Of(DeviceProfile profile, ImmutableArray<InstrumentEvent> events)
    {
        var samples = ImmutableArray.CreateBuilder<ProfileSample>();
        var partial = new List<string>();
        foreach (var e in events)
        {
            var text = Encoding.Latin1.GetString(e.Line.Bytes.AsSpan());
            if (e.Meaning == LineMeaning.Partial)
            {
                partial.Add(text);
                continue;
            }

            var ends = e is InstrumentEvent.ReadingTaken or InstrumentEvent.BeyondRange;
            samples.Add(
                new ProfileSample(ends ? [.. partial, text] : [text], e.Meaning, (e as InstrumentEvent.ReadingTaken)?.Reading.Densities));
            if (ends)
            {
                partial.Clear();
            }
        }

        var seen = new HashSet<string>();
        return [
            .. samples.Where(s => !string.IsNullOrWhiteSpace(s.Lines[^1]) && seen.Add(string.Join('\n', s.Lines))).Take(150),
            .. Cut(profile, samples)];
    }

    /// <summary>The first reading's last line without its last character, when that fits nothing.</summary>
    private static IEnumerable<ProfileSample> Cut(DeviceProfile profile, IEnumerable<ProfileSample> samples)
    {
        var cut = samples.First(s => s.Meaning == LineMeaning.Reading).Lines[^1].TrimEnd()[..^1];
        var result = new LineInterpreter(profile).Interpret(RawLine.OfText(cut, DateTimeOffset.UnixEpoch));
        return result is InstrumentEvent.UnmatchedLine ? [new ProfileSample([cut], LineMeaning.Unmatched, null)] : [];
    }
}
