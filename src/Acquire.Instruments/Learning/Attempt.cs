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
            if (LearningProof.Objection(input, events) is { } objection)
            {
                return Failed(objection);
            }

            var json = ProfileWriter.Write(draft with { Samples = SampleMaker.Of(draft, events) });
            var profile = ProfileReader.Read(json, input.Name + ".json");
            return LearningProof.Objection(input, LearningProof.Replay(profile, capture)) is { } still ? Failed(still)
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
