namespace Acquire.Analysis.Causes;

/// <summary>One possible cause with what speaks for it and against it.</summary>
/// <param name="Signature">The fault.</param>
/// <param name="Family">Its family.</param>
/// <param name="Probability">Probability among everything considered, nothing at all included; a ranking, not an oracle.</param>
/// <param name="Size">How large it would be, in units of the size often met.</param>
/// <param name="Supporting">Observations that it explains.</param>
/// <param name="Contradicting">Observations that it does not explain, or that it would have made otherwise.</param>
/// <param name="Circumstances">What history and books add, each in a sentence.</param>
public sealed record Cause(
    FaultSignature Signature,
    CauseFamily Family,
    double Probability,
    double Size,
    ImmutableArray<Observation> Supporting,
    ImmutableArray<Observation> Contradicting,
    ImmutableArray<string> Circumstances);

/// <summary>One patch and channel held against a cause. All numbers are densities.</summary>
/// <param name="PatchName">The trade's name of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Deviation">Deviation from aim.</param>
/// <param name="Expected">What the cause would make of it.</param>
/// <param name="Scatter">Standard deviation of what reading and process scatter by.</param>
public sealed record Observation(string PatchName, Domain.Densitometry.Channel Channel, double Deviation, double Expected, double Scatter);

/// <summary>Causes of one family, which the strip alone hardly tells apart.</summary>
/// <param name="Family">The family.</param>
/// <param name="Probability">Of the family as a whole.</param>
/// <param name="Causes">Its causes, the likeliest first.</param>
public sealed record CauseGroup(CauseFamily Family, double Probability, ImmutableArray<Cause> Causes);
