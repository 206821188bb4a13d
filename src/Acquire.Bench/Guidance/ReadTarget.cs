namespace Acquire.Bench.Guidance;

/// <summary>What the user reads next.</summary>
/// <param name="Patch">The patch.</param>
/// <param name="Read">Which read of it, from 1.</param>
/// <param name="Of">How many reads it is to have.</param>
/// <param name="Position">Which patch of the strip, from 1.</param>
/// <param name="Patches">How many patches the strip has.</param>
public sealed record ReadTarget(Patch Patch, int Read, int Of, int Position, int Patches)
{
    /// <summary>Whether the patch stays where it is, instead of being placed anew for this read.</summary>
    public bool Still { get; init; }
}
