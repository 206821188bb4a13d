using Acquire.Analysis.Gauge;

namespace Acquire.Rendering.Trust;

/// <summary>
/// A repeatability test for other programs. Names of properties are a contract; new ones may be added. All in the unit of the readings.
/// </summary>
internal static class RepeatabilityJson
{
    public static object Of(RepeatabilityReport report, RepeatabilityComparison? comparison) => new
    {
        Passed = report.Passes,
        Channels = report.Channels.ToDictionary(c => c.Channel.Word(), c => Channel(c)),
        Patches = report.Channels.SelectMany(c => c.Patches).GroupBy(p => p.Patch, StringComparer.OrdinalIgnoreCase).ToDictionary(
            g => g.Key,
            g => new { Channels = g.ToDictionary(p => p.Channel.Word(), Patch) }),
        Limits = report.Limits.Select(l => new
        {
            l.Parameter.Key,
            l.Parameter.Name,
            Channel = l.Channel?.Word(),
            Kind = l.IsControl ? "control" : "action",
            l.Limit.Lower,
            l.Limit.Upper,
            l.S,
            l.Share,
            l.ReadsNeeded,
            l.Explanation,
        }),
        Suspects = report.Suspects.Select(s => new
        {
            s.Patch,
            Channel = s.Channel.Word(),
            Read = s.Number,
            s.Placement,
            s.Value,
            s.G,
            s.Critical,
            s.P,
            s.IsOutlier,
        }),
        report.Notes,
        Before = comparison is null ? null : new
        {
            Channels = comparison.Channels.ToDictionary(
                c => c.Channel.Word(), c => new { SBefore = c.Before, SNow = c.Now, c.Test.F, c.Test.P, c.IsSignificant }),
            Drifts = comparison.Drifts.Select(d => new
            {
                d.Patch,
                Channel = d.Channel.Word(),
                d.Drift,
                Uncertainty = d.StandardUncertainty,
                d.P,
                d.IsSignificant,
            }),
        },
    };

    private static object Channel(ChannelRepeatability channel) => new
    {
        channel.Pooled.S,
        channel.Pooled.SLow,
        channel.Pooled.SHigh,
        channel.Pooled.RepeatabilityLimit,
        N = channel.Pooled.Reads,
        channel.Pooled.DegreesOfFreedom,
        SStated = channel.Pooled.Stated,
        channel.Pooled.SWithin,
        channel.Pooled.SPlacement,
        channel.Pooled.Resolution,
        channel.Pooled.ResolutionShare,
        channel.Level,
        Specification = channel.Specification.Sigma,
        channel.Specification.ChiSquare,
        channel.Specification.Critical,
        channel.Specification.P,
        Passed = channel.Specification.Passes,
    };

    private static object Patch(PatchRepeatability patch) => new
    {
        patch.Scatter?.S,
        patch.Scatter?.SLow,
        patch.Scatter?.SHigh,
        patch.Scatter?.RepeatabilityLimit,
        N = patch.Reads,
        DegreesOfFreedom = patch.Scatter?.DegreesOfFreedom ?? 0,
        SStated = patch.Scatter?.Stated,
        patch.Scatter?.SWithin,
        patch.Scatter?.SPlacement,
        patch.Level,
        patch.LevelUncertainty,
    };
}
