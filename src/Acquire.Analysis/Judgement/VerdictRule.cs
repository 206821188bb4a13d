using Acquire.Analysis.Statistics;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>Makes verdicts of deviations and their budgets.</summary>
internal static class VerdictRule
{
    /// <summary>The verdict of one deviation; null where there is no limit or no deviation.</summary>
    public static VerdictResult? Of(ParameterResult result, double level) => result is { Deviation: { } deviation, Budget: { } budget }
        ? Of(
            result.Limits, ReadsOf(result), level,
            (limit, share) =>
                Thinner(budget, share) is var b ? Conformity.Inside(limit, deviation, b.StandardUncertainty, b.DegreesOfFreedom) : 0)
        : null;

    /// <summary>The verdict of a colour spread, by what the range of three would show if the true spread lay on the limit.</summary>
    public static VerdictResult? OfSpread(
        ParameterResult spread, ImmutableArray<ParameterResult> colours, double level) => spread.Deviation is null ? null : Of(
        spread.Limits,
        colours.Min(ReadsOf),
        level,
        (limit, share) => limit.Upper is { } upper
            ? new SpreadInference(
                [.. colours.Select(c => c.Deviation!.Value)], [.. colours.Select(c => Widened(Thinner(c.Budget!, share)))]).Inside(upper)
            : 1);

    /// <summary>The uncertainty of one colour within a spread: an error of zero is the same in the three and cancels; where the scatter
    /// itself rests on few reads, it is widened as Student's t widens a 95 % interval.</summary>
    public static double Widened(Budget budget)
    {
        var own = new Budget([.. budget.Components.Where(c => c.Of != Doubt.Zero)]);
        return own.StandardUncertainty * own.CoverageFactor() / Quantiles.Student(0.975, double.PositiveInfinity);
    }

    /// <summary>The verdict on the mean of several strips; more strips would decide, reads would not.</summary>
    public static VerdictResult OfMean(ParameterLimits limits, Limit limit, double mean, Budget budget, double level)
    {
        double Inside(Limit l) => Conformity.Inside(l, mean, budget.StandardUncertainty, budget.DegreesOfFreedom);
        return new VerdictResult(
            Verdicts.Of(Inside(limit), level), limit, Inside(limit), limits.Action is { } action ? Inside(action) : null, level);
    }

    private static VerdictResult? Of(ParameterLimits limits, int reads, double level, Func<Limit, double, double> inside)
    {
        // Out of control means past the control limit. The action limit stands in only where a sheet has no other.
        if ((limits.Control ?? limits.Action) is not { } limit)
        {
            return null;
        }

        var probability = inside(limit, 1);
        var verdict = Verdicts.Of(probability, level);
        return new VerdictResult(
            verdict, limit, probability, limits.Action is { } action ? inside(action, 1) : null, level)
        {
            // Asked of few strips only, and dear for a spread.
            ToDecide = () => MoreReads.ToDecide(reads, share => inside(limit, share), level),
        };
    }

    /// <summary>Fewest reads of a patch that the deviation rests on.</summary>
    private static int ReadsOf(ParameterResult result) => result.RestsOn.IsEmpty ? 1 : result.RestsOn.Min(r => r.Reads);

    /// <summary>The budget when the reading variance is only a share of what it is, as it is with more reads.</summary>
    private static Budget Thinner(Budget budget, double share) =>
        // More reads thin out their own part only; aim, display step and zero stay, and with them a doubt no read can end.
        share == 1 ? budget : new Budget([.. budget.Components.Select(
            c => c.Of == Doubt.Reads ? c with { Contribution = c.Contribution * Math.Sqrt(share) } : c)]);
}

/// <summary>A deviation held against its limits with the uncertainty counted in.</summary>
/// <param name="Verdict">Inside or outside the limit with the probability asked for, or neither.</param>
/// <param name="Limit">The limit that it is about: the control limit, or the action limit where that is the only one.</param>
/// <param name="ProbabilityInside">Probability that the true deviation is inside that limit.</param>
/// <param name="ProbabilityInsideAction">Probability that it is inside the action limit; null when there is none.</param>
/// <param name="Level">Probability asked for.</param>
public sealed record VerdictResult(
    Verdict Verdict, Limit Limit, double ProbabilityInside, double? ProbabilityInsideAction, double Level)
{
    private int? _moreReads;
    private bool _isAsked;

    /// <summary>How many more reads of each patch would decide, if the deviation stayed
    /// as it is; null when decided, or when no number would.</summary>
    public int? MoreReads
    {
        get
        {
            if (!_isAsked)
            {
                _moreReads = Verdict == Verdict.Undecided ? ToDecide?.Invoke() : null;
                _isAsked = true;
            }

            return _moreReads;
        }
    }

    internal Func<int?>? ToDecide { private get; init; }

    /// <summary>What would decide, in words; null when it is decided.</summary>
    public string? WhatDecides => Verdict != Verdict.Undecided ? null
        : MoreReads is { } more ? FormattableString.Invariant(
            $"{more} more {(more == 1 ? "read" : "reads")} of each patch would decide, if the deviation stays")
        : "more reads would not decide; only a second strip can";
}
