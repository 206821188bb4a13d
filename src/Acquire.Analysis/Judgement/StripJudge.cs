using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>
/// Compares a strip with its aims and limits: deviation = strip − aim for every parameter and channel of the process sheet that
/// the record is judged by, each with its standard uncertainty and its zone.
/// </summary>
public static class StripJudge
{
    /// <summary>
    /// Judges a record by its own means, aims and process sheet, as they were in force. What is missing stays missing and says why;
    /// nothing is guessed.
    /// </summary>
    /// <param name="record">The strip.</param>
    /// <param name="calibration">What is known of the zero between reference and strip; null when nothing is, and then it is not counted.</param>
    /// <param name="level">Probability that a verdict asks for, above 0.5 and below 1.</param>
    public static StripJudgement Judge(StripRecord record, CalibrationState? calibration = null, double level = Verdicts.UsualLevel)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(level, 0.5);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(level, 1);
        var strip = new ComparedStrip(record);
        ImmutableArray<ParameterResult> results = [.. record.JudgedBy.Parameters.SelectMany(p => Results(p, record, strip, calibration))];
        return new StripJudgement([.. results.Select(r => r with { Verdict = Verdict(r, results, level) })], strip.Repeatability);
    }

    private static VerdictResult? Verdict(ParameterResult result, ImmutableArray<ParameterResult> all, double level) => result.Parameter is SpreadParameter spread
        ? VerdictRule.OfSpread(result, [.. all.Where(r => r.Parameter.Key == spread.OfKey)], level)
        : VerdictRule.Of(result, level);

    private static IEnumerable<ParameterResult> Results(
        Parameter parameter, StripRecord record, ComparedStrip strip, CalibrationState? calibration) => parameter switch
    {
        PatchParameter p => p.Channels.Select(c => strip.Patch(p.PatchKey, c).ToResult(p, c, calibration) with { OnStrip = strip.Has(p.PatchKey) }),
        DifferenceParameter d => d.Channels.Select(c => (strip.Patch(d.PatchKey, c) - strip.Patch(d.MinusPatchKey, c)).ToResult(d, c, calibration) with
        {
            OnStrip = strip.Has(d.PatchKey) && strip.Has(d.MinusPatchKey),
        }),
        SpreadParameter s => [ColourSpread.Of(s, Results(record.JudgedBy.Get(s.OfKey), record, strip, calibration))],
        CurveParameter c => c.Channels.Select(channel => CurveJudge.Of(c, channel, record, strip)),
        _ => throw new NotSupportedException($"Parameter '{parameter.Key}' is of a kind that cannot be judged."),
    };
}
