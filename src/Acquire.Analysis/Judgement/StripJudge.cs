using Acquire.Analysis.Judgement.Curves;
using Acquire.Domain.Processes;
using Acquire.Domain.Records;

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
    public static StripJudgement Judge(StripRecord record)
    {
        ArgumentNullException.ThrowIfNull(record);
        var strip = new ComparedStrip(record);
        return new StripJudgement(
            [.. record.JudgedBy.Parameters.SelectMany(p => Results(p, record, strip))],
            strip.Repeatability);
    }

    private static IEnumerable<ParameterResult> Results(Parameter parameter, StripRecord record, ComparedStrip strip) => parameter switch
    {
        PatchParameter p => p.Channels.Select(c => strip.Patch(p.PatchKey, c).ToResult(p, c) with { OnStrip = strip.Has(p.PatchKey) }),
        DifferenceParameter d => d.Channels.Select(c => (strip.Patch(d.PatchKey, c) - strip.Patch(d.MinusPatchKey, c)).ToResult(d, c) with
        {
            OnStrip = strip.Has(d.PatchKey) && strip.Has(d.MinusPatchKey),
        }),
        SpreadParameter s => [ColourSpread.Of(s, Results(record.JudgedBy.Get(s.OfKey), record, strip))],
        CurveParameter c => c.Channels.Select(channel => CurveJudge.Of(c, channel, record, strip)),
        _ => throw new NotSupportedException($"Parameter '{parameter.Key}' is of a kind that cannot be judged."),
    };
}
