using System.Text;
using Acquire.Instruments.Lines;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>One interpretation made into a profile and put to the proof.</summary>
/// <param name="Json">The profile as a file; null when it failed.</param>
/// <param name="Profile">The proved profile; null when it failed.</param>
/// <param name="Objection">Why it failed; null when it did not.</param>
internal sealed record Attempt(string? Json, DeviceProfile? Profile, string? Objection)
{
    /// <summary>Every profile that the interpretation leads to, proved or failed; at least one.</summary>
    public static IReadOnlyList<Attempt> Make(LearningInput input, Capture capture, Interpretation interpretation)
    {
        var attempts = new List<Attempt>();
        try
        {
            foreach (var draft in ProfileDraft.Of(input, capture, interpretation))
            {
                attempts.Add(Prove(input, capture, interpretation, draft));
            }
        }
        catch (Exception e) when (e is DeclinedException or TemplateException)
        {
            attempts.Add(Failed(e.Message));
        }

        return attempts;
    }

    private static Attempt Prove(LearningInput input, Capture capture, Interpretation interpretation, DeviceProfile draft)
    {
        try
        {
            var events = LearningProof.Replay(draft, capture);
            if (LearningProof.Objection(input, events, interpretation.Scanner) is { } objection)
            {
                return Failed(objection);
            }

            var json = ProfileWriter.Write(draft with { Samples = SampleMaker.Of(draft, events) });
            // Written and read back, not used as it is: what the user will have is the file, so the file is what must prove itself.
            var profile = ProfileReader.Read(json, input.Name + ".json");
            return LearningProof.Objection(input, LearningProof.Replay(profile, capture), interpretation.Scanner) is { } still ? Failed(
                still)
                : Doubts.About(input, capture, interpretation, profile) is { } doubt ? Failed(doubt)
                : Garbling.FirstAccepted(profile, interpretation) is { } damaged
                    ? Failed($"The lines are too alike: '{damaged}', a damaged line, would be taken for a good one.")
                    : new Attempt(json, profile, null);
        }
        catch (ProfileException e)
        {
            return Failed(e.Errors[0].Message);
        }
    }

    private static Attempt Failed(string objection) => new(null, null, objection);
}

/// <summary>Reads the whole capture again with the profile that was made of it.</summary>
internal static class LearningProof
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(1);

    public static ImmutableArray<InstrumentEvent> Replay(DeviceProfile profile, Capture capture)
    {
        var interpreter = new LineInterpreter(profile);
        return [.. capture.Frames(profile.Link.MaskTopBit, profile.Framing).Select(
            (f, i) => interpreter.Interpret(f with { Line = f.Line with { ReceivedAt = DateTimeOffset.UnixEpoch + (i * Step) } }))];
    }

    /// <summary>Why the events are not what was shown; null when they are.</summary>
    public static string? Objection(LearningInput input, ImmutableArray<InstrumentEvent> events, ValueScanner scanner)
    {
        if (events.FirstOrDefault(e => e is InstrumentEvent.UnmatchedLine) is InstrumentEvent.UnmatchedLine unmatched)
        {
            return $"The line '{unmatched.Line.Text}' fits nothing. {unmatched.Reason}";
        }

        var marked = input.Shown.Any(s => !s.IsWhole);
        var read = events.Where(e => e is InstrumentEvent.ReadingTaken || (marked && e is InstrumentEvent.BeyondRange)).ToList();
        if (read.Count != input.Shown.Length)
        {
            return $"The capture holds {read.Count} readings, and {input.Shown.Length} were shown. Give what the display showed for each, "
                + "in order.";
        }

        var wrong = Enumerable.Range(0, read.Count).FirstOrDefault(i => !Same(input, input.Shown[i], read[i], scanner), -1);
        return wrong < 0
            ? null
            : $"Reading {wrong + 1} was shown as {input.Shown[wrong]}, and the line '{read[wrong].Line.Text}' gives something else.";
    }

    private static bool Same(LearningInput input, ShownReading shown, InstrumentEvent taken, ValueScanner scanner) => taken switch
    {
        InstrumentEvent.ReadingTaken { Reading.Densities: var read } =>
            shown.IsWhole && read.Present.Length == input.Channels.Length
            && input.Channels.Index().All(c => read[c.Item] is { } density && scanner.Shows(density.Value, shown.Values[c.Index]!.Value)),
        InstrumentEvent.BeyondRange { Channels: var beyond } =>
            !shown.IsWhole && (beyond.IsEmpty || input.Channels.Where((_, i) => shown.Values[i] is null).ToHashSet().SetEquals(beyond)),
        _ => false,
    };
}

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
