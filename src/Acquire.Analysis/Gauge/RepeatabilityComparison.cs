using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>A repeatability test beside an earlier one.</summary>
/// <param name="Channels">Channels that both have, in the usual order.</param>
/// <param name="Drifts">Patches and channels that both have.</param>
public sealed record RepeatabilityComparison(ImmutableArray<ScatterChange> Channels, ImmutableArray<LevelDrift> Drifts)
{
    /// <summary>Compares: F test of the pooled scatter per channel, t test of the level per patch and channel.</summary>
    public static RepeatabilityComparison Of(RepeatabilityReport earlier, RepeatabilityReport later)
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
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
                   where string.Equals(before.Patch, now.Patch, StringComparison.OrdinalIgnoreCase)
                   select LevelDrift.Of(pair.Before.Pooled, before, pair.Now.Pooled, now),
            ]);
    }
}

/// <summary>Scatter now against scatter before, in one channel.</summary>
/// <param name="Channel">The channel.</param>
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
