using Acquire.Bench.Trust;

namespace Acquire.Rendering.Trust;

/// <summary>A calibration check for other programs. Names of properties are a contract; new ones may be added.</summary>
internal static class CheckJson
{
    public static object Of(JudgedCheck judged) => new
    {
        judged.Check.Id,
        Plaque = judged.Check.Plaque.Name,
        judged.Check.Plaque.Tolerance,
        judged.Check.Passed,
        judged.Report.Verdict,
        ReadAt = judged.Check.Provenance.At,
        ReadBy = judged.Check.Provenance.By,
        judged.Check.Provenance.Instrument,
        judged.Check.SessionId,
        judged.Check.DueAt,
        Channels = judged.Report.Channels.ToDictionary(c => c.Channel.Word(), c => new
        {
            c.Verdict,
            c.Cause,
            c.Advice,
            Zero = c.Zero.Value,
            ZeroLow = c.Zero.Low,
            ZeroHigh = c.Zero.High,
            Slope = c.Slope?.Value,
            SlopeLow = c.Slope?.Low,
            SlopeHigh = c.Slope?.High,
            Patches = c.Patches.ToDictionary(p => p.Patch, p => new
            {
                p.Certified,
                p.Mean,
                p.Reads,
                p.Error,
                Uncertainty = p.StandardUncertainty,
                p.IsInside,
                p.ProbabilityInside,
                p.Verdict,
            }),
        }),
        judged.Report.Notes,
    };
}
