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
    /// <param name="calibration">
    /// What is known of the zero between reference and strip; null when nothing is, and then it is not counted.
    /// </param>
    /// <param name="level">Probability that a verdict asks for, above 0.5 and below 1.</param>
    public static StripJudgement Judge(StripRecord record, CalibrationState? calibration = null, double level = Verdicts.UsualLevel)
    {
        ArgumentNullException.ThrowIfNull(record);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(level, 0.5);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(level, 1);
        var strip = new ComparedStrip(record);
        return new StripJudgement([.. record.JudgedBy.Parameters.SelectMany(Results)], strip.Repeatability);

        // What judging does with each kind of parameter.
        IEnumerable<ParameterResult> Results(Parameter parameter) => parameter.Match<IEnumerable<ParameterResult>>(
            patch => patch.Channels.Select(c => OfPatches(patch, c, strip.Patch(patch.PatchKey, c))),
            difference => difference.Channels.Select(
                c => OfPatches(difference, c, strip.Patch(difference.PatchKey, c) - strip.Patch(difference.MinusPatchKey, c))),
            spread => [Spread(spread, [.. Results(record.JudgedBy.Get(spread.OfKey)).Where(r => r.Channel is not Channel.Visual)])],
            curve => curve.Channels.Select(c => Judged(CurveJudge.Of(curve, c, record, strip))));

        ParameterResult OfPatches(Parameter parameter, Channel channel, Comparison comparison) =>
            Judged(comparison.ToResult(parameter, channel, calibration)) with { OnStrip = parameter.PatchKeys.All(strip.Has) };

        ParameterResult Spread(SpreadParameter parameter, ImmutableArray<ParameterResult> colours)
        {
            var result = ColourSpread.Of(parameter, colours);
            return result with { Verdict = VerdictRule.OfSpread(result, colours, level) };
        }

        ParameterResult Judged(ParameterResult result) => result with { Verdict = VerdictRule.Of(result, level) };
    }
}
