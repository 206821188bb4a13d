using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>What came of learning: a profile that has proved itself, or the reasons why there is none.</summary>
public abstract record LearningResult
{
    private LearningResult() { }

    /// <summary>A profile that reads the whole capture as shown.</summary>
    /// <param name="Json">The profile as a file.</param>
    /// <param name="Profile">The same, read back and proved by its samples.</param>
    public sealed record Learned(string Json, DeviceProfile Profile) : LearningResult;

    /// <summary>No profile; a wrong one would be worse.</summary>
    /// <param name="Reasons">What is ambiguous or missing, each a sentence for the user; at least one.</param>
    public sealed record Declined(ImmutableArray<string> Reasons) : LearningResult;
}

/// <summary>Learns a device profile from captured bytes and what the display showed. It looks for every way to see the shown
/// values on the lines, makes a profile of each, and keeps one only if it proves itself by its samples, reads the whole capture as
/// shown, refuses damaged lines, and is the only one.</summary>
public static class ProfileLearner
{
    /// <summary>Learns a profile; never throws for what was captured or shown.</summary>
    public static LearningResult Learn(LearningInput input)
    {
        try
        {
            ImmutableArray<string> missing = [.. Shown.Missing(input)];
            return missing.IsEmpty ? Learn(input, CaptureCuts.Of(input)) : new LearningResult.Declined(missing);
        }
        catch (DeclinedException e)
        {
            return new LearningResult.Declined([e.Message]);
        }
    }

    /// <summary>Learns from the first way to cut the capture that leads to a
    /// profile; else says what speaks against the likeliest.</summary>
    private static LearningResult Learn(LearningInput input, IReadOnlyList<Capture> cuts)
    {
        LearningResult? first = null;
        foreach (var cut in cuts)
        {
            var result = Learn(input, cut);
            if (result is LearningResult.Learned)
            {
                return result;
            }

            // The objection of the likeliest way is the one the user can do something about.
            first ??= result;
        }

        return first!;
    }

    private static LearningResult Learn(LearningInput input, Capture capture)
    {
        var objections = new List<string>();
        var seen = new HashSet<string>();
        foreach (var ways in WritingWays.Of(Shown.Decimals(input)))
        {
            var interpretations = ways.SelectMany(w => Interpretations(input, capture, w)).Where(i => seen.Add(i.Key)).ToList();
            // Every way is tried to its end, although one that proves itself is found early: a second one that proves itself too is
            // the only sign that the readings do not settle which channel stands where.
            var attempts = interpretations.SelectMany(i => Attempt.Make(input, capture, i)).ToList();
            var proved = attempts.Where(a => a.Profile is not null).DistinctBy(a => a.Json).ToList();
            if (proved.Count > 0)
            {
                return proved is [{ Json: { } json, Profile: { } profile }]
                    ? new LearningResult.Learned(json, profile)
                    : new LearningResult.Declined([Ambiguous(proved)]);
            }

            objections.AddRange(attempts.Select(a => a.Objection!));
        }

        return new LearningResult.Declined(
            objections.Count == 0 ? [NotFound.Reason(input, capture)] : [.. objections.Distinct().Take(3)]);
    }

    private static IEnumerable<Interpretation> Interpretations(LearningInput input, Capture capture, ValueScanner way) =>
        WholeLineSearch.Find(input, capture.Lines, way).Concat(ChannelLineSearch.Find(input, capture.Lines, way))
            .Select(i => RepeatedValues.Of(i) ?? i);

    private static string Ambiguous(List<Attempt> proved) =>
        "The shown values can be seen on the lines in more than one way: "
        + string.Join("; or ", proved.Take(3).Select(p => string.Join(" / ", p.Profile!.Rules.Where(
            r => r.Meaning is LineMeaning.Reading or LineMeaning.Partial)
            .Select(r => $"'{r.Template!.Text}'"))))
        + ". Read one more patch, on which the channels differ.";
}

/// <summary>Says which shown values stand nowhere on the lines.</summary>
internal static class NotFound
{
    public static string Reason(LearningInput input, Capture capture)
    {
        var absent = WritingWays.Absent(
            input.Shown.SelectMany(s => s.Values).OfType<Density>(), capture.Lines, Math.Max(1, Shown.Decimals(input)));
        return !absent.IsEmpty
            ? $"Shown, but on no line of the capture: {string.Join(", ", absent)}. Check what was typed, and that the capture holds those "
                + "readings; type all decimals."
            : "The shown values stand on the lines, but not all channels of a reading in the same columns each time, or not in the order "
                + "given. Check the order of the readings and --channels.";
    }
}

/// <summary>Ends an attempt at learning; the message says to the user what is ambiguous or missing.</summary>
internal sealed class DeclinedException(string reason) : Exception(reason);
