using Acquire.Analysis.Charts;
using Acquire.Analysis.Control;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Tests.Judgement;

namespace Acquire.Analysis.Tests.Charts;

/// <summary>Points of an invented dip tank's history, made of a few numbers.</summary>
internal static class ChartStrips
{
    public static readonly DateTimeOffset Start = new(2026, 1, 12, 19, 10, 0, TimeSpan.FromHours(1));

    /// <summary>A strip with the same deviation and uncertainty in every parameter and channel.</summary>
    /// <param name="days">Days after the start.</param>
    /// <param name="deviation">The deviation; null for a strip on which nothing was read.</param>
    /// <param name="u">Standard uncertainty.</param>
    /// <param name="lot">Its lot.</param>
    /// <param name="sheet">What it was judged by.</param>
    public static StripPoint Point(
        double days, double? deviation = 0.01, double u = 0.004, string lot = "2417", ProcessSheet? sheet = null) => new()
    {
        StripId = Guid.NewGuid(),
        At = Start.AddDays(days),
        Lot = lot,
        Judgement = new StripJudgement(
            [.. from p in (sheet ?? Some.C41).Parameters from c in p.Lines select Result(p, c, deviation, u)],
            ImmutableDictionary<Channel, PooledDeviation>.Empty),
    };

    public static ChartModel Chart(params StripPoint[] strips) => ChartModel.Of(new ChartRequest(Some.C41, strips));

    public static ChartPanel Panel(this ChartModel model, string key) => model.Panels.Single(p => p.Parameter.Key == key);

    /// <summary>The C-41 sheet with other limits for LD.</summary>
    public static ProcessSheet Sheet(params Limit?[] ld) => new(
        Some.C41.Key,
        Some.C41.Name,
        Some.C41.Status,
        Some.C41.Layout,
        [.. Some.C41.Parameters.Select(p => p is PatchParameter { Key: "ld" } l
            ? new PatchParameter(l.Key, l.Name, l.StandsFor, l.PatchKey, l.Channels, new ParameterLimits(ld[0], ld[1]))
            : p)]);

    private static ParameterResult Result(Parameter parameter, Channel? channel, double? deviation, double u)
    {
        var own = !parameter.HasSign && deviation is { } d ? Math.Abs(d) : deviation;
        return new ParameterResult
        {
            Parameter = parameter,
            Channel = channel,
            Deviation = own,
            StandardUncertainty = own is null ? null : u,
            Zone = own is { } value ? parameter.LimitsIn(channel).ZoneOf(value) : null,
            WhyMissing = own is null ? "It was not read." : null,
        };
    }
}
