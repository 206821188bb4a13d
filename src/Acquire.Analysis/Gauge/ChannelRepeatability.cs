namespace Acquire.Analysis.Gauge;

/// <summary>One channel of a repeatability test.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Level">Mean of the levels of its patches.</param>
/// <param name="Pooled">The scatter pooled over all patches; what later uncertainties rest on.</param>
/// <param name="Specification">The pooled scatter against what the user accepts.</param>
/// <param name="Patches">Patch by patch, in the order of their first read.</param>
public sealed record ChannelRepeatability(
    Channel Channel, double Level, Scatter Pooled, SpecificationTest Specification, ImmutableArray<PatchRepeatability> Patches);
