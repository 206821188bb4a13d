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

    /// <summary>What the record of a strip keeps of a test.</summary>
    public RepeatabilityInForce InForce(Guid testId) =>
        new(testId, [.. Channels.Select(c => new ChannelScatter(c.Channel, c.Pooled.Stated, c.Pooled.DegreesOfFreedom))]);

    /// <summary>Every read that stands apart.</summary>
    public ImmutableArray<SuspectRead> Suspects => [.. Channels.SelectMany(c => c.Patches).Select(p => p.Suspect).OfType<SuspectRead>()];
}

/// <summary>One channel of a repeatability test.</summary>
/// <param name="Level">Mean of the levels of its patches.</param>
/// <param name="Pooled">The scatter pooled over all patches; what later uncertainties rest on.</param>
/// <param name="Specification">The pooled scatter against what the user accepts.</param>
/// <param name="Patches">Patch by patch, in the order of their first read.</param>
public sealed record ChannelRepeatability(
    Channel Channel, double Level, Scatter Pooled, SpecificationTest Specification, ImmutableArray<PatchRepeatability> Patches);

/// <summary>One patch in one channel of a repeatability test.</summary>
/// <param name="Patch">Key of the patch.</param>
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

/// <summary>A repeatability test beside an earlier one.</summary>
/// <param name="Channels">Channels that both have, in the usual order.</param>
/// <param name="Drifts">Patches and channels that both have.</param>
public sealed record RepeatabilityComparison(ImmutableArray<ScatterChange> Channels, ImmutableArray<LevelDrift> Drifts)
{
    /// <summary>Compares: F test of the pooled scatter per channel, t test of the level per patch and channel.</summary>
    public static RepeatabilityComparison Of(RepeatabilityReport earlier, RepeatabilityReport later)
    {
        var pairs = later.Channels
            .Select(now => (Before: earlier[now.Channel], Now: now))
            .Where(p => p.Before is not null)
            .Select(p => (Before: p.Before!, p.Now))
            .ToImmutableArray();
        return new RepeatabilityComparison(
            [.. pairs.Select(p => ScatterChange.Of(p.Now.Channel, p.Before.Pooled, p.Now.Pooled))],
            [
                .. from pair in pairs
                   from now in pair.Now.Patches
                   from before in pair.Before.Patches
                   where Keys.Same(before.Patch, now.Patch)
                   select LevelDrift.Of(pair.Before.Pooled, before, pair.Now.Pooled, now),
            ]);
    }
}

/// <summary>Scatter now against scatter before, in one channel.</summary>
/// <param name="Before">The earlier standard deviation, <see cref="Scatter.Stated"/>.</param>
/// <param name="Now">The later one.</param>
/// <param name="Test">Later over earlier variance.</param>
public sealed record ScatterChange(Channel Channel, double Before, double Now, VarianceRatio Test)
{
    /// <summary>Whether the two differ by more than chance explains at 5 %, in either direction.</summary>
    public bool IsSignificant => Test.P < 0.05;

    internal static ScatterChange Of(Channel channel, Scatter before, Scatter now) => new(
        channel, before.Stated, now.Stated, VarianceRatio.Of(now.Stated, now.DegreesOfFreedom, before.Stated, before.DegreesOfFreedom));
}

/// <summary>How far the level of a patch moved from one test to the next, in density.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Drift">Level now minus level before.</param>
/// <param name="StandardUncertainty">Of the drift.</param>
/// <param name="DegreesOfFreedom">Of the uncertainty (Welch–Satterthwaite).</param>
/// <param name="T">Drift over its uncertainty.</param>
/// <param name="P">Chance of a t this far from 0 without a drift.</param>
public sealed record LevelDrift(
    string Patch, Channel Channel, double Drift, double StandardUncertainty, int DegreesOfFreedom, double T, double P)
{
    /// <summary>Whether it is more than chance explains at 5 %.</summary>
    public bool IsSignificant => P < 0.05;

    internal static LevelDrift Of(Scatter scatterBefore, PatchRepeatability before, Scatter scatterNow, PatchRepeatability now)
    {
        var (a, b) = (before.LevelUncertainty * before.LevelUncertainty, now.LevelUncertainty * now.LevelUncertainty);
        var uncertainty = Math.Sqrt(a + b);
        var freedom = (a + b) * (a + b) / ((a * a / scatterBefore.DegreesOfFreedom) + (b * b / scatterNow.DegreesOfFreedom));
        var whole = Math.Max(1, (int)(freedom + 1e-9));
        var drift = now.Level - before.Level;
        return new LevelDrift(
            now.Patch, now.Channel, drift, uncertainty, whole, drift / uncertainty, Quantiles.StudentTail(drift / uncertainty, whole));
    }
}
