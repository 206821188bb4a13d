namespace Acquire.Analysis.Plausibility;

/// <summary>A mistake that may have been made, as a question to the user. Nothing is changed until the user agrees.</summary>
/// <param name="Kind">The mistake.</param>
/// <param name="Evidence">
/// Natural logarithm of the odds of the mistake against "the process did this", prior odds counted in; 0 is even, 3 is 20 to 1.
/// </param>
/// <param name="Patches">Keys of the patches concerned, in the strip's order.</param>
/// <param name="Reads">The reads concerned, where it is about single reads.</param>
/// <param name="Question">The question in words, remedy included.</param>
/// <param name="Remedy">What is proposed.</param>
public sealed record Suspicion(
    SuspicionKind Kind, double Evidence, ImmutableArray<string> Patches, ImmutableArray<ReadPlace> Reads, string Question, Remedy Remedy)
{
    /// <summary>How the mistake shows.</summary>
    public SuspicionClass Class => Kind >= SuspicionKind.WrongLot ? SuspicionClass.Subtle : SuspicionClass.Gross;

    /// <summary>The odds as a probability, 0 … 1.</summary>
    public double Probability => 1 / (1 + Math.Exp(-Evidence));

    /// <summary>What tells this question from others, so that an answered one is not asked again: kind, patches, reads.</summary>
    public string Key => string.Join(' ', [Kind.ToString(), .. Patches, .. Reads.Select(r => r.ToString())]);
}
