namespace Acquire.Analysis.Plausibility;

/// <summary>A mistake that may have been made, as a question to the user. Nothing is changed until the user agrees.</summary>
/// <param name="Kind">The mistake.</param>
/// <param name="Evidence">Natural logarithm of the odds of the mistake against "the process did
/// this", prior odds counted in; 0 is even, 3 is 20 to 1.</param>
/// <param name="Patches">Keys of the patches concerned, in the strip's order.</param>
/// <param name="Reads">The reads concerned, where it is about single reads.</param>
/// <param name="Question">The question in words, remedy included.</param>
/// <param name="Remedy">What is proposed.</param>
public sealed record Suspicion(
    SuspicionKind Kind, double Evidence, ImmutableArray<string> Patches, ImmutableArray<ReadPlace> Reads, string Question, Remedy Remedy)
{
    /// <summary>How the mistake shows.</summary>
    public SuspicionClass Class => Kind >= SuspicionKind.WrongLot ? SuspicionClass.Subtle : SuspicionClass.Gross;

    /// <summary>What tells this question from others, so that an answered one is not asked again: kind, patches, reads.</summary>
    public string Key => string.Join(' ', [Kind.ToString(), .. Patches, .. Reads.Select(r => r.ToString())]);
}

/// <summary>Where a read stands in the record.</summary>
/// <param name="Index">Its index among all reads of the patch, excluded ones counted, from 0.</param>
public readonly record struct ReadPlace(string PatchKey, int Index)
{
    /// <summary>For example <c>ld#2</c> for the third read of LD.</summary>
    public override string ToString() => FormattableString.Invariant($"{PatchKey}#{Index}");
}

/// <summary>The mistakes that are looked for.</summary>
public enum SuspicionKind
{
    /// <summary>Reads of one patch lie farther apart than re-placing explains.</summary>
    SpreadOfRepeats,

    /// <summary>One read stands apart from others of its patch that agree: dust, a scratch, a slip.</summary>
    Outlier,

    /// <summary>Two readings came faster than a person can place a strip anew, with the same values.</summary>
    DoubleTrigger,

    /// <summary>The instrument was zeroed on a patch, so that it shows differences; or nothing is in the gate.</summary>
    RelativeMode,

    /// <summary>Patches were read in another order, or a patch that is not a neighbour was read.</summary>
    NeutralOrder,

    /// <summary>A neutral of a masked negative without B &gt; G &gt; R, and nothing else explains it.</summary>
    ColourOrder,

    /// <summary>The previous patch was read again.</summary>
    PreviousPatchAgain,

    /// <summary>The neighbouring patch, or the neighbouring step of a wedge, was read.</summary>
    OffByOneStep,

    /// <summary>The strip was read from the wrong end.</summary>
    WrongEnd,

    /// <summary>The densities stand in the wrong channels.</summary>
    SwappedChannels,

    /// <summary>The visual density was taken for the red one.</summary>
    VisualForRed,

    /// <summary>One value of one patch goes with none of the others: mistyped, or a damaged line.</summary>
    WrongValue,

    /// <summary>A density lost the digit before its point on the line.</summary>
    LostDigit,

    /// <summary>The darkest patch was read at its edge, so that lighter film was read with it.</summary>
    PatchEdge,

    /// <summary>The strip is of another lot than the aims.</summary>
    WrongLot,

    /// <summary>The instrument is set to another status than the process is read with.</summary>
    WrongStatus,

    /// <summary>The strip is not dry: repeats drift.</summary>
    NotDry,

    /// <summary>The zero is off: every patch and channel is off by the same.</summary>
    DirtyZero,

    /// <summary>The slope is off: deviations grow with density.</summary>
    SlopeError,

    /// <summary>The zero drifts while the strip is read: later patches are off by more.</summary>
    ZeroDrift,

    /// <summary>Some patches are of one strip and the rest of another that was processed otherwise.</summary>
    TwoStrips,
}

/// <summary>How a mistake shows.</summary>
public enum SuspicionClass
{
    /// <summary>At once, in one reading or one patch.</summary>
    Gross,

    /// <summary>Only in the pattern over all patches, where a process fault may look alike.</summary>
    Subtle,
}
