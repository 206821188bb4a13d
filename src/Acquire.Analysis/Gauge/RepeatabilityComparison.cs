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

/// <summary>How far the level of a patch moved from one test to the next, in density.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
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
