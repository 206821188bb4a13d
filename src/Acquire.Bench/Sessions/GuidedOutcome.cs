using Acquire.Bench.Guidance;

namespace Acquire.Bench.Sessions;

/// <summary>How a guided reading ended and what it gave; also of a cancelled or failed one nothing is lost.</summary>
/// <param name="Outcome">How it ended.</param>
/// <param name="Reason">Why, in words for the user.</param>
/// <param name="Strip">What was read.</param>
/// <param name="Lines">Every line received, in order.</param>
/// <param name="Fault">What ended it when it failed.</param>
public sealed record GuidedOutcome(
    SessionOutcome Outcome, string Reason, GuidedStrip Strip, ImmutableArray<ReceivedLine> Lines, Exception? Fault = null)
{
    /// <summary>Whether it was broken off by something that passes, so that the session need not end with it.</summary>
    public bool MayGoOn { get; init; }

    /// <summary>What came last and could not be kept any more; empty unless the store failed.</summary>
    public ImmutableArray<JournalEntry> Unstored { get; init; } = [];

    /// <summary>How many lines fitted nothing in the profile.</summary>
    public int UnmatchedLines => Lines.Count(l => l.Meaning == LineMeaning.Unmatched);
}
