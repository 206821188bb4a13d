using Acquire.Analysis.Uncertainty;
using Acquire.Bench.History;

namespace Acquire.Web.Documents;

/// <summary>The level of verdicts as a guard band, and what the verdicts on a strip risk.</summary>
internal static class RiskJson
{
    public static RiskDocument Of(double level, StripRisks? risks) => new()
    {
        Level = level,
        GuardBand = GuardBand.MultipleOf(level),
        Strip = risks is null ? null : Of(risks),
    };

    private static StripRiskDocument Of(StripRisks risks) => new()
    {
        Id = risks.Strip.Id,
        Strips = risks.Strips,
        Results = risks.Results.Select(r => new StripRiskResultDocument
        {
            Key = r.Result.Parameter.Key,
            Channel = r.Result.Channel,
            Deviation = r.Result.Deviation,
            Uncertainty = r.Band.StandardUncertainty,
            Lower = r.Band.Limit.Lower,
            Upper = r.Band.Limit.Upper,
            GuardBand = r.Band.Width,
            Multiple = r.Band.Multiple,
            AcceptFrom = r.Band.AcceptFrom,
            AcceptTo = r.Band.AcceptTo,
            RejectBelow = r.Band.RejectBelow,
            RejectAbove = r.Band.RejectAbove,
            Verdict = ((Verdict?)r.Result.Verdict!.Verdict).Code(),
            ProbabilityOutside = r.Outside,
            GlobalConsumerRisk = r.Global?.Consumer,
            GlobalProducerRisk = r.Global?.Producer,
        }),
    };
}

internal sealed record RiskDocument
{
    public required double Level { get; init; }
    public required double GuardBand { get; init; }
    public required StripRiskDocument? Strip { get; init; }
}

internal sealed record StripRiskDocument
{
    public required Guid Id { get; init; }
    public required int Strips { get; init; }
    public required IEnumerable<StripRiskResultDocument> Results { get; init; }
}

internal sealed record StripRiskResultDocument
{
    public required string Key { get; init; }
    public required Channel? Channel { get; init; }
    public required double? Deviation { get; init; }
    public required double Uncertainty { get; init; }
    public required double? Lower { get; init; }
    public required double? Upper { get; init; }
    public required double? GuardBand { get; init; }
    public required double? Multiple { get; init; }
    public required double? AcceptFrom { get; init; }
    public required double? AcceptTo { get; init; }
    public required double? RejectBelow { get; init; }
    public required double? RejectAbove { get; init; }
    public required string? Verdict { get; init; }
    public required double ProbabilityOutside { get; init; }
    public required double? GlobalConsumerRisk { get; init; }
    public required double? GlobalProducerRisk { get; init; }
}
