namespace Acquire.Analysis.Plausibility;

/// <summary>A lot that the strip might be of instead.</summary>
/// <param name="Code">Its code number.</param>
/// <param name="Aims">Its aims.</param>
public sealed record OtherLot(string Code, ImmutableArray<Aim> Aims);
