using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>Finds what to ask about a strip as it stands.</summary>
/// <param name="knowledge">What is known of the strip.</param>
/// <param name="atKeyboard">
/// Whether a person can answer. Where nobody is, nobody may have placed the strip either: readings come faster than a hand could, and their pace
/// tells nothing.
/// </param>
public sealed class SessionQuestioner(StripKnowledge knowledge, bool atKeyboard)
{
    private readonly PlausibilityCheck _check = new(
        atKeyboard ? knowledge : knowledge with { Settings = knowledge.Settings with { QuickestPlacing = TimeSpan.Zero } });

    /// <summary>The next question; null for none, or while one waits for an answer.</summary>
    public AskedQuestion? Next(SessionProgress progress)
    {
        ArgumentNullException.ThrowIfNull(progress);
        var (strip, log) = (progress.Strip, progress.Questions);
        if (log.Open is not null || strip.LastRead is null)
        {
            return null;
        }

        var found = strip.IsComplete
            ? _check.QuestionWhenComplete(strip.Patches, log.Settled(passedOver: false)) ?? OfLastRead(strip.Patches, log.Settled(passedOver: true))
            : _check.QuestionAfterRead(strip.Patches, log.Settled(passedOver: true));
        return found is null ? null : AskedQuestion.Of(found);
    }

    /// <summary>What shows in the last read alone is not among what is asked about the whole strip.</summary>
    private Suspicion? OfLastRead(ImmutableArray<PatchReads> patches, IReadOnlySet<string> settled) =>
        _check.RankAfterRead(patches).FirstOrDefault(
            s => s.Kind is SuspicionKind.DoubleTrigger or SuspicionKind.RelativeMode && _check.IsDecisive(s) && !settled.Contains(s.Key));
}
