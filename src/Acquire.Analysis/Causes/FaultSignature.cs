namespace Acquire.Analysis.Causes;

/// <summary>What a fault does to the densities of a control strip: strip − aim, at a size that is often met.</summary>
/// <param name="Key">The short word, such as <c>developer-cold</c>.</param>
/// <param name="Name">The fault in words.</param>
/// <param name="ProcessKey">Key of the process sheet.</param>
/// <param name="Origin">Where it lies.</param>
/// <param name="Sizes">The differences by key of patch; a patch that is missing does not move.</param>
/// <param name="Confidence">How sure the direction is.</param>
/// <param name="Onset">How it shows over time.</param>
/// <param name="FirstCheck">What to look at first.</param>
/// <param name="Source">Where the directions and sizes come from.</param>
public sealed record FaultSignature(
    string Key,
    string Name,
    string ProcessKey,
    FaultOrigin Origin,
    ImmutableDictionary<string, ColourSizes> Sizes,
    DirectionConfidence Confidence,
    FaultOnset Onset,
    string FirstCheck,
    string Source)
{
    /// <summary>Whether densities tell anything of it; a missing final rinse shows only after years.</summary>
    public bool Shows => Sizes.Values.Any(s => s != default);

    /// <summary>The difference of one patch and channel, in density; 0 where the fault does not move it.</summary>
    public double Size(string patchKey, Channel channel) => Sizes.TryGetValue(patchKey, out var sizes) ? sizes[channel] : 0;
}
