using Acquire.Formats.Json;
using Acquire.Instruments.Lines;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.ProfileFiles;

/// <summary>
/// Proves a profile by its samples, through the same framer and interpreter that an instrument's bytes go through. There must be a sample
/// of a reading, and every rule must be fitted by a line of some sample: a rule that nothing shows is a rule nobody has tried.
/// </summary>
internal static class SampleProof
{
    private static readonly DateTimeOffset Start = DateTimeOffset.UnixEpoch;
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(1);

    public static void Prove(DeviceProfile profile, JsonFile errors)
    {
        var used = new HashSet<int>();
        var proved = true;
        for (var i = 0; i < profile.Samples.Length; i++)
        {
            proved &= Prove(profile, i, used, errors);
        }

        if (!profile.Samples.Any(s => s.Meaning == LineMeaning.Reading))
        {
            errors.Add(
                "/samples", "No sample gives a reading; expected one at least, with the densities that the instrument's display showed.");
        }

        // A sample that fails may be the one that was to show the rule: one error is enough then.
        foreach (var rule in Enumerable.Range(0, profile.Rules.Length).Where(r => proved && !used.Contains(r)))
        {
            errors.Add(
                $"/lines/{rule}",
                "No line of a sample comes to this rule; expected a sample of it (or the rules before it already take such lines).");
        }
    }

    private static bool Prove(DeviceProfile profile, int index, HashSet<int> used, JsonFile errors)
    {
        var sample = profile.Samples[index];
        var framer = new LineFramer(profile.Framing, profile.Link.MaskTopBit);
        var interpreter = new LineInterpreter(profile);
        var answer = profile.Commands.Identify is { } identify ? new AnswerMatcher(identify, profile.Number) : null;
        for (var i = 0; i < sample.Lines.Length; i++)
        {
            var place = $"/samples/{index}/lines/{i}";
            var text = sample.Lines[i];
            if (text.Any(c => c > '\u00FF'))
            {
                errors.Add(
                    place, $"Sample line '{text}' holds a character that is no single byte; an instrument sends ASCII or Latin-1 only.");
                return false;
            }

            var at = Start + (i * Step);
            // Wrapped and framed as on the line, not matched directly: a framing that cuts the sample would cut the instrument's lines.
            var frames = framer.Push(LineEnvelope.Wrap(text, profile.Framing), at);
            frames = framer.HasPending ? [.. frames, .. framer.Flush(at + (profile.Framing.IdleGap ?? TimeSpan.Zero))] : frames;
            var isLast = i == sample.Lines.Length - 1;
            if (frames.Count != 1 && !(frames.Count == 0 && text.Length == 0 && !isLast))
            {
                errors.Add(
                    place,
                    FormattableString.Invariant($"Sample line '{text}' is cut into {frames.Count} lines by the framing; expected one."));
                return false;
            }

            foreach (var frame in frames)
            {
                var result = interpreter.Interpret(frame);
                used.Add(interpreter.LastRule);
                if ((Objection(sample, result, isLast) ?? IdentityObjection(sample, result, isLast, answer)) is { } objection)
                {
                    errors.Add(place, $"Sample line '{text}' {objection}");
                    return false;
                }
            }
        }

        return true;
    }

    private static string? Objection(ProfileSample sample, InstrumentEvent result, bool isLast)
    {
        if (!isLast)
        {
            return result is InstrumentEvent.UnmatchedLine ? $"leads up to the last one, but gives {Describe(result)}" : null;
        }

        var expected = sample.Identity is { } identity ? $"the answer to identify, {identity}"
            : sample.Densities is { } densities ? $"the reading {densities}" : ProfileWords.Word(sample.Meaning);
        var same = sample.Meaning == result.Meaning
            && (result is not InstrumentEvent.ReadingTaken taken || SameValues(taken.Reading.Densities, sample.Densities));
        return same ? null : $"should give {expected}, but gives {Describe(result)}";
    }

    private static string? IdentityObjection(ProfileSample sample, InstrumentEvent result, bool isLast, AnswerMatcher? answer)
    {
        var said = answer?.Match(result.Line.Bytes.AsSpan());
        return sample.Identity is { } expected && isLast && said != expected
            ? $"should say that the instrument is {expected}, but {(said is null ? "is not the answer to identify" : $"says {said}")}."
            : result is not InstrumentEvent.IgnoredLine && said is not null
                ? "would also be taken for the answer to identify; expected an answer that no other line fits."
                : null;
    }

    private static bool SameValues(ChannelDensities read, ChannelDensities? expected) =>
        expected is not null && Channels.All.All(c => read[c]?.Value == expected[c]?.Value);

    private static string Describe(InstrumentEvent result) => result switch
    {
        InstrumentEvent.ReadingTaken taken => $"the reading {taken.Reading.Densities}.",
        InstrumentEvent.UnmatchedLine unmatched => $"nothing. {unmatched.Reason}",
        _ => ProfileWords.Word(result.Meaning) + ".",
    };
}
