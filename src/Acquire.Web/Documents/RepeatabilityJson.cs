using Acquire.Analysis.Gauge;

namespace Acquire.Web.Documents;

/// <summary>
/// A repeatability test for other programs. Names of properties are a contract; new ones may be added. All in the unit of the readings.
/// </summary>
internal static class RepeatabilityJson
{
    public static RepeatabilityTestDocument Of(RepeatabilityTest test, RepeatabilityReport report) => new()
    {
        Id = test.Id,
        ReadAt = test.Provenance.At,
        ReadBy = test.Provenance.By,
        Instrument = test.Provenance.Instrument,
        SessionId = test.SessionId,
        ReadsPerPlacement = test.ReadsPerPlacement,
        Specification = test.Specification,
        Passed = test.Passed,
        Result = Of(report, null),
    };

    public static RepeatabilityDocument Of(RepeatabilityReport report, RepeatabilityComparison? comparison) => new()
    {
        Passed = report.Passes,
        Channels = report.Channels.ToDictionary(c => c.Channel.Word(), c => Channel(c)),
        Patches = report.Channels.SelectMany(c => c.Patches).GroupBy(p => p.Patch, StringComparer.OrdinalIgnoreCase).ToDictionary(
            g => g.Key,
            g => new RepeatabilityPatchDocument { Channels = g.ToDictionary(p => p.Channel.Word(), Patch) }),
        Limits = report.Limits.Select(l => new RepeatabilityLimitDocument
        {
            Key = l.Parameter.Key,
            Name = l.Parameter.Name,
            Channel = l.Channel?.Word(),
            Kind = l.IsControl ? "control" : "action",
            Lower = l.Limit.Lower,
            Upper = l.Limit.Upper,
            S = l.S,
            Share = l.Share,
            ReadsNeeded = l.ReadsNeeded,
            Explanation = l.Explanation,
        }),
        Suspects = report.Suspects.Select(s => new RepeatabilitySuspectDocument
        {
            Patch = s.Patch,
            Channel = s.Channel.Word(),
            Read = s.Number,
            Placement = s.Placement,
            Value = s.Value,
            G = s.G,
            Critical = s.Critical,
            P = s.P,
            IsOutlier = s.IsOutlier,
        }),
        Notes = report.Notes,
        Before = comparison is null ? null : new RepeatabilityBeforeDocument
        {
            Channels = comparison.Channels.ToDictionary(
                c => c.Channel.Word(), c => new RepeatabilityBeforeChannelDocument
                {
                    SBefore = c.Before,
                    SNow = c.Now,
                    F = c.Test.F,
                    P = c.Test.P,
                    IsSignificant = c.IsSignificant,
                }),
            Drifts = comparison.Drifts.Select(d => new RepeatabilityBeforeDriftDocument
            {
                Patch = d.Patch,
                Channel = d.Channel.Word(),
                Drift = d.Drift,
                Uncertainty = d.StandardUncertainty,
                P = d.P,
                IsSignificant = d.IsSignificant,
            }),
        },
    };

    private static ChannelScatterDocument Channel(ChannelRepeatability channel) => new()
    {
        S = channel.Pooled.S,
        SLow = channel.Pooled.SLow,
        SHigh = channel.Pooled.SHigh,
        RepeatabilityLimit = channel.Pooled.RepeatabilityLimit,
        N = channel.Pooled.Reads,
        DegreesOfFreedom = channel.Pooled.DegreesOfFreedom,
        SStated = channel.Pooled.Stated,
        SWithin = channel.Pooled.SWithin,
        SPlacement = channel.Pooled.SPlacement,
        Resolution = channel.Pooled.Resolution,
        ResolutionShare = channel.Pooled.ResolutionShare,
        Level = channel.Level,
        Specification = channel.Specification.Sigma,
        ChiSquare = channel.Specification.ChiSquare,
        Critical = channel.Specification.Critical,
        P = channel.Specification.P,
        Passed = channel.Specification.Passes,
    };

    private static PatchScatterDocument Patch(PatchRepeatability patch) => new()
    {
        S = patch.Scatter?.S,
        SLow = patch.Scatter?.SLow,
        SHigh = patch.Scatter?.SHigh,
        RepeatabilityLimit = patch.Scatter?.RepeatabilityLimit,
        N = patch.Reads,
        DegreesOfFreedom = patch.Scatter?.DegreesOfFreedom ?? 0,
        SStated = patch.Scatter?.Stated,
        SWithin = patch.Scatter?.SWithin,
        SPlacement = patch.Scatter?.SPlacement,
        Level = patch.Level,
        LevelUncertainty = patch.LevelUncertainty,
    };
}

internal sealed record RepeatabilityTestDocument
{
    public required Guid Id { get; init; }
    public required DateTimeOffset ReadAt { get; init; }
    public required string ReadBy { get; init; }
    public required InstrumentInUse? Instrument { get; init; }
    public required Guid? SessionId { get; init; }
    public required int ReadsPerPlacement { get; init; }
    public required double Specification { get; init; }
    public required bool Passed { get; init; }
    public required RepeatabilityDocument Result { get; init; }
}

internal sealed record RepeatabilityDocument
{
    public required bool Passed { get; init; }
    public required Dictionary<string, ChannelScatterDocument> Channels { get; init; }
    public required Dictionary<string, RepeatabilityPatchDocument> Patches { get; init; }
    public required IEnumerable<RepeatabilityLimitDocument> Limits { get; init; }
    public required IEnumerable<RepeatabilitySuspectDocument> Suspects { get; init; }
    public required ImmutableArray<string> Notes { get; init; }
    public required RepeatabilityBeforeDocument? Before { get; init; }
}

internal sealed record RepeatabilityPatchDocument
{
    public required Dictionary<string, PatchScatterDocument> Channels { get; init; }
}

internal sealed record RepeatabilityLimitDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required string? Channel { get; init; }
    public required string Kind { get; init; }
    public required double? Lower { get; init; }
    public required double? Upper { get; init; }
    public required double S { get; init; }
    public required double Share { get; init; }
    public required int? ReadsNeeded { get; init; }
    public required string Explanation { get; init; }
}

internal sealed record RepeatabilitySuspectDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required int Read { get; init; }
    public required int? Placement { get; init; }
    public required decimal Value { get; init; }
    public required double G { get; init; }
    public required double Critical { get; init; }
    public required double P { get; init; }
    public required bool IsOutlier { get; init; }
}

internal sealed record RepeatabilityBeforeDocument
{
    public required Dictionary<string, RepeatabilityBeforeChannelDocument> Channels { get; init; }
    public required IEnumerable<RepeatabilityBeforeDriftDocument> Drifts { get; init; }
}

internal sealed record RepeatabilityBeforeChannelDocument
{
    public required double SBefore { get; init; }
    public required double SNow { get; init; }
    public required double F { get; init; }
    public required double P { get; init; }
    public required bool IsSignificant { get; init; }
}

internal sealed record RepeatabilityBeforeDriftDocument
{
    public required string Patch { get; init; }
    public required string Channel { get; init; }
    public required double Drift { get; init; }
    public required double Uncertainty { get; init; }
    public required double P { get; init; }
    public required bool IsSignificant { get; init; }
}

internal sealed record ChannelScatterDocument
{
    public required double S { get; init; }
    public required double SLow { get; init; }
    public required double SHigh { get; init; }
    public required double RepeatabilityLimit { get; init; }
    public required int N { get; init; }
    public required int DegreesOfFreedom { get; init; }
    public required double SStated { get; init; }
    public required double? SWithin { get; init; }
    public required double? SPlacement { get; init; }
    public required double Resolution { get; init; }
    public required double ResolutionShare { get; init; }
    public required double Level { get; init; }
    public required double Specification { get; init; }
    public required double ChiSquare { get; init; }
    public required double Critical { get; init; }
    public required double P { get; init; }
    public required bool Passed { get; init; }
}

internal sealed record PatchScatterDocument
{
    public required double? S { get; init; }
    public required double? SLow { get; init; }
    public required double? SHigh { get; init; }
    public required double? RepeatabilityLimit { get; init; }
    public required int N { get; init; }
    public required int DegreesOfFreedom { get; init; }
    public required double? SStated { get; init; }
    public required double? SWithin { get; init; }
    public required double? SPlacement { get; init; }
    public required double Level { get; init; }
    public required double LevelUncertainty { get; init; }
}
