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
