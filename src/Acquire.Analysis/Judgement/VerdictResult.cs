using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>A deviation held against its limits with the uncertainty counted in.</summary>
/// <param name="Verdict">Inside or outside the limit with the probability asked for, or neither.</param>
/// <param name="Limit">The limit that it is about: the control limit, or the action limit where that is the only one.</param>
/// <param name="ProbabilityInside">Probability that the true deviation is inside that limit.</param>
/// <param name="ProbabilityInsideAction">Probability that it is inside the action limit; null when there is none.</param>
/// <param name="Level">Probability asked for.</param>
/// <param name="MoreReads">
/// How many more reads of each patch would decide, if the deviation stayed as it is; null when decided, or when no number would.
/// </param>
public sealed record VerdictResult(
    Verdict Verdict, Limit Limit, double ProbabilityInside, double? ProbabilityInsideAction, double Level, int? MoreReads)
{
    /// <summary>What would decide, in words; null when it is decided.</summary>
    public string? WhatDecides => Verdict != Verdict.Undecided ? null
        : MoreReads is { } more ? FormattableString.Invariant(
            $"{more} more {(more == 1 ? "read" : "reads")} of each patch would decide, if the deviation stays")
        : "more reads would not decide; only a second strip can";
}
