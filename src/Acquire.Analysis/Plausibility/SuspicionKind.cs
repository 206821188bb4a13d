namespace Acquire.Analysis.Plausibility;

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
}
