namespace Acquire.Domain.Strips;

/// <summary>One read of a patch, with the reason when it does not count.</summary>
/// <param name="Reading">What the instrument gave.</param>
/// <param name="Exclusion">Why it does not count; null when it counts.</param>
public sealed record PatchRead(Reading Reading, Exclusion? Exclusion = null)
{
    /// <summary>Whether the read counts.</summary>
    public bool Counts => Exclusion is null;

    /// <summary>What was done to the read after it was taken, such as exchanging its channels; null when nothing was.</summary>
    public string? Note { get; init; }
}
