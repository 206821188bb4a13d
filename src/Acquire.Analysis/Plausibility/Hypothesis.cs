namespace Acquire.Analysis.Plausibility;

/// <summary>A mistake that may have been made, and what the instrument would then show.</summary>
/// <param name="Id">Tells it from the others; null when it rests on this strip alone, so that nothing of it is worth keeping.</param>
/// <param name="Kind">The mistake.</param>
/// <param name="Prior">How often it happens, for each strip, against nothing happening.</param>
/// <param name="Slots">The patches concerned.</param>
/// <param name="Question">The question.</param>
/// <param name="Remedy">What is proposed.</param>
/// <param name="Explain">What each value is made of; null when the hypothesis does not fit this strip.</param>
internal sealed record Hypothesis(
    string? Id,
    SuspicionKind Kind,
    double Prior,
    ImmutableArray<int> Slots,
    string Question,
    Remedy Remedy,
    Func<StripData, Explanation?> Explain);
