using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>Compares a strip with its aims and limits: deviation = strip − aim for every parameter and channel of the process sheet that
/// the record is judged by, each with its standard uncertainty and its zone.</summary>
public static class StripJudge
{
    /// <summary>Judges a record by its own means, aims and process sheet, as they were in force. What is
    /// missing stays missing and says why; nothing is guessed.</summary>
    /// <param name="record">The strip.</param>
    /// <param name="ground">What is known beyond the record; null to judge by the record alone.</param>
    /// <param name="level">Probability that a verdict asks for, above 0.5 and below 1.</param>
    public static StripJudgement Judge(StripRecord record, JudgingGround? ground = null, double level = Verdicts.UsualLevel)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(level, 0.5);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(level, 1);
        var known = ground ?? JudgingGround.Of(record);
        var strip = new ComparedStrip(record, known);
        return new StripJudgement(
            [.. record.JudgedBy.Parameters.SelectMany(Results)], Repeatability.Of(record.Means, record.Repeatability)) { Ground = known };

        // What judging does with each kind of parameter.
        IEnumerable<ParameterResult> Results(Parameter parameter) => parameter.Match<IEnumerable<ParameterResult>>(
            patch => patch.Channels.Select(c => OfPatches(patch, c, strip.Patch(patch.PatchKey, c))),
            difference => difference.Channels.Select(
                c => OfPatches(difference, c, strip.Patch(difference.PatchKey, c) - strip.Patch(difference.MinusPatchKey, c))),
            // The spread of a parameter is judged by the three colours as judged, so they are judged here again; visual is no colour.
            spread => [Spread(spread, [.. Results(record.JudgedBy.Get(spread.OfKey)).Where(r => r.Channel is not Channel.Visual)])],
            curve => curve.Channels.Select(c => Judged(CurveJudge.Of(curve, c, record, strip, known.Zero))));

        ParameterResult OfPatches(Parameter parameter, Channel channel, Comparison comparison) =>
            Judged(comparison.ToResult(parameter, channel, known.Zero)) with { OnStrip = parameter.PatchKeys.All(strip.Has) };

        ParameterResult Spread(SpreadParameter parameter, ImmutableArray<ParameterResult> colours)
        {
            // Its verdict needs all three colours: the range of three has another distribution than the difference of two.
            var result = ColourSpread.Of(parameter, colours);
            return result with { Verdict = VerdictRule.OfSpread(result, colours, level) };
        }

        ParameterResult Judged(ParameterResult result) => result with { Verdict = VerdictRule.Of(result, level) };
    }
}

/// <summary>A strip compared with its aims and limits.</summary>
/// <param name="Results">Every parameter of the process sheet in every channel, in the sheet's order.</param>
/// <param name="Repeatability">How reads repeat, by channel: the strip's own and those of the repeatability test in
/// force; a channel of which nothing is known is absent.</param>
public sealed record StripJudgement(ImmutableArray<ParameterResult> Results, ImmutableDictionary<Channel, PooledDeviation> Repeatability)
{
    /// <summary>The worst zone of any result; null when none has a zone. Look at <see cref="Unjudged"/> too.</summary>
    public Zone? Overall => Results.Max(r => r.Zone);

    /// <summary>What it was judged by; null for a judgement that was put together.</summary>
    public JudgingGround? Ground { get; init; }

    /// <summary>The sentence on the strip as a whole; null when nothing has a verdict.</summary>
    public WholeStrip? Whole => WholeStrip.Of(Results);

    /// <summary>The verdict on the strip as a whole; null when nothing has one.</summary>
    public Verdict? Verdict => Whole?.Verdict;

    /// <summary>What of any result rests on an assumption.</summary>
    public Assumed RestsOnAssumption => Results.Aggregate(Assumed.None, (all, r) => all | r.RestsOnAssumption);

    /// <summary>The results that lie in the worst zone, in order; empty when that is inside, or when none has a zone.</summary>
    public ImmutableArray<ParameterResult> Worst =>
        Overall is { } worst and not Zone.Inside ? [.. Results.Where(r => r.Zone == worst)] : [];

    /// <summary>The results without a zone, of what is on the strip; each says why.</summary>
    public ImmutableArray<ParameterResult> Unjudged => [.. Results.Where(r => r.Zone is null && r.OnStrip)];

    /// <summary>The parameters of the process sheet that need patches which this strip has not.</summary>
    public ImmutableArray<Parameter> NotOnStrip => [.. Results.Where(r => !r.OnStrip).Select(r => r.Parameter).Distinct()];
}
