using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>What a repeatability test tells.</summary>
/// <param name="Channels">Channel by channel, in the usual order; a channel in which no patch was read twice is absent.</param>
/// <param name="Limits">What the instrument uses up of each limit of the process; empty without a process sheet.</param>
/// <param name="Notes">What the user should know of the numbers, in words.</param>
public sealed record RepeatabilityReport(
    ImmutableArray<ChannelRepeatability> Channels, ImmutableArray<LimitUse> Limits, ImmutableArray<string> Notes)
{
    /// <summary>A channel; null when the test says nothing of it.</summary>
    public ChannelRepeatability? this[Channel channel] => Channels.FirstOrDefault(c => c.Channel == channel);

    /// <summary>Whether every channel passes its specification.</summary>
    public bool Passes => Channels.All(c => c.Specification.Passes);

    /// <summary>
    /// What later uncertainties rest on: the pooled <see cref="Scatter.S"/> of each channel, as read. Whoever uses it adds the display
    /// step where the scatter hides below it, once.
    /// </summary>
    public ImmutableDictionary<Channel, PooledDeviation> Repeatability =>
        Channels.ToImmutableDictionary(c => c.Channel, c => new PooledDeviation(c.Pooled.S, c.Pooled.DegreesOfFreedom));

    /// <summary>What the record of a strip keeps of a test.</summary>
    public RepeatabilityInForce InForce(Guid testId) =>
        new(testId, [.. Channels.Select(c => new ChannelScatter(c.Channel, c.Pooled.Stated, c.Pooled.DegreesOfFreedom))]);

    /// <summary>Every read that stands apart.</summary>
    public ImmutableArray<SuspectRead> Suspects => [.. Channels.SelectMany(c => c.Patches).Select(p => p.Suspect).OfType<SuspectRead>()];
}

/// <summary>One channel of a repeatability test.</summary>
/// <param name="Channel">The channel.</param>
/// <param name="Level">Mean of the levels of its patches.</param>
/// <param name="Pooled">The scatter pooled over all patches; what later uncertainties rest on.</param>
/// <param name="Specification">The pooled scatter against what the user accepts.</param>
/// <param name="Patches">Patch by patch, in the order of their first read.</param>
public sealed record ChannelRepeatability(
    Channel Channel, double Level, Scatter Pooled, SpecificationTest Specification, ImmutableArray<PatchRepeatability> Patches);

/// <summary>One patch in one channel of a repeatability test.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Level">Mean of its reads.</param>
/// <param name="LevelUncertainty">Standard uncertainty of the level, from the scatter pooled over the patches.</param>
/// <param name="Reads">How many reads it has.</param>
/// <param name="Scatter">How far its reads scatter; null with one read.</param>
/// <param name="Suspect">The read that stands apart; null when none does.</param>
public sealed record PatchRepeatability(
    string Patch, Channel Channel, double Level, double LevelUncertainty, int Reads, Scatter? Scatter, SuspectRead? Suspect)
{
    /// <summary>Whether several reads were made, all in one placement of the film.</summary>
    public bool NeverPlacedAnew { get; init; }
}
