using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;

namespace Acquire.Web.Documents;

/// <summary>A calibration check for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class CheckJson
{
    public static CheckDocument Of(JudgedCheck judged) => new()
    {
        Id = judged.Check.Id,
        Plaque = judged.Check.Plaque.Name,
        Tolerance = judged.Check.Plaque.Tolerance,
        Passed = judged.Check.Passed,
        Verdict = judged.Report.Verdict,
        ReadAt = judged.Check.Provenance.At,
        ReadBy = judged.Check.Provenance.By,
        Instrument = judged.Check.Provenance.Instrument,
        SessionId = judged.Check.SessionId,
        DueAt = judged.Check.DueAt,
        Channels = judged.Report.Channels.ToDictionary(c => c.Channel.Word(), c => new CheckChannelDocument
        {
            Verdict = c.Verdict,
            Cause = c.Cause,
            Advice = c.Advice,
            Zero = c.Zero.Value,
            ZeroLow = c.Zero.Low,
            ZeroHigh = c.Zero.High,
            Slope = c.Slope?.Value,
            SlopeLow = c.Slope?.Low,
            SlopeHigh = c.Slope?.High,
            Patches = c.Patches.ToDictionary(p => p.Patch, p => new CheckChannelPatchDocument
            {
                Certified = p.Certified,
                Mean = p.Mean,
                Reads = p.Reads,
                Error = p.Error,
                Uncertainty = p.StandardUncertainty,
                IsInside = p.IsInside,
                ProbabilityInside = p.ProbabilityInside,
                Verdict = p.Verdict,
            }),
        }),
        Notes = judged.Report.Notes,
    };
}

internal sealed record CheckDocument
{
    public required Guid Id { get; init; }
    public required string Plaque { get; init; }
    public required double Tolerance { get; init; }
    public required bool Passed { get; init; }
    public required CheckVerdict Verdict { get; init; }
    public required DateTimeOffset ReadAt { get; init; }
    public required string ReadBy { get; init; }
    public required InstrumentInUse? Instrument { get; init; }
    public required Guid? SessionId { get; init; }
    public required DateTimeOffset DueAt { get; init; }
    public required Dictionary<string, CheckChannelDocument> Channels { get; init; }
    public required ImmutableArray<string> Notes { get; init; }
}

internal sealed record CheckChannelDocument
{
    public required CheckVerdict Verdict { get; init; }
    public required CalibrationFault Cause { get; init; }
    public required string Advice { get; init; }
    public required double Zero { get; init; }
    public required double ZeroLow { get; init; }
    public required double ZeroHigh { get; init; }
    public required double? Slope { get; init; }
    public required double? SlopeLow { get; init; }
    public required double? SlopeHigh { get; init; }
    public required Dictionary<string, CheckChannelPatchDocument> Patches { get; init; }
}

internal sealed record CheckChannelPatchDocument
{
    public required double Certified { get; init; }
    public required double Mean { get; init; }
    public required int Reads { get; init; }
    public required double Error { get; init; }
    public required double Uncertainty { get; init; }
    public required bool IsInside { get; init; }
    public required double ProbabilityInside { get; init; }
    public required CheckVerdict Verdict { get; init; }
}
