using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Learning;

/// <summary>One interpretation made into a profile and put to the proof.</summary>
/// <param name="Json">The profile as a file; null when it failed.</param>
/// <param name="Profile">The proved profile; null when it failed.</param>
/// <param name="Objection">Why it failed; null when it did not.</param>
internal sealed record Attempt(string? Json, DeviceProfile? Profile, string? Objection)
{
    public static Attempt Make(LearningInput input, Capture capture, Interpretation interpretation)
    {
        try
        {
            var draft = ProfileDraft.Of(input, capture, interpretation);
            var events = LearningProof.Replay(draft, capture.Bytes.Span);
            if (LearningProof.Objection(input, events) is { } objection)
            {
                return Failed(objection);
            }

            var json = ProfileWriter.Write(draft with { Samples = SampleMaker.Of(draft, events) });
            var profile = ProfileReader.Read(json, input.Name + ".json");
            return LearningProof.Objection(input, LearningProof.Replay(profile, capture.Bytes.Span)) is { } still ? Failed(still)
                : Garbling.FirstAccepted(profile, interpretation) is { } damaged
                    ? Failed($"The lines are too alike: '{damaged}', a damaged line, would be taken for a good one.")
                    : new Attempt(json, profile, null);
        }
        catch (Exception e) when (e is DeclinedException or ProfileException or TemplateException)
        {
            return Failed(e is ProfileException { Errors: [var first, ..] } ? first.Message : e.Message);
        }
    }

    private static Attempt Failed(string objection) => new(null, null, objection);
}
