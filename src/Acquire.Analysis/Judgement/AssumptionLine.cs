using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>One line for a screen, a mark for a cell and a word for a file, where a number rests on an assumption.</summary>
public static class AssumptionLine
{
    /// <summary>Stands behind an uncertainty, or a verdict, that rests on one.</summary>
    public const string Mark = "*";

    /// <summary>What of a budget is assumed; nothing of none.</summary>
    internal static Assumed In(Budget? budget) => (budget?.Components ?? []).Where(c => c.IsAssumed && c.Contribution != 0)
        .Aggregate(Assumed.None, (all, c) => all | (c.Of == Doubt.Zero ? Assumed.Zero : Assumed.Repeatability));

    /// <summary>The mark; empty where nothing is assumed.</summary>
    public static string MarkOf(Assumed assumed) => assumed == Assumed.None ? "" : Mark;

    /// <summary>Explains the mark, with what would do away with it; null for nothing.</summary>
    public static string? Of(Assumed assumed) => AssumptionWords.Rests(assumed) is { } rests
        ? $"{Mark} {rests}; {WhatHelps(assumed)}." : null;

    /// <summary>The word for files and scripts: <c>repeatability</c>, <c>zero</c> or both; null for nothing.</summary>
    public static string? Code(Assumed assumed) => assumed switch
    {
        Assumed.None => null,
        Assumed.Repeatability => "repeatability",
        Assumed.Zero => "zero",
        _ => "repeatability and zero",
    };

    /// <summary>
    /// What one repeatability test would change for a strip, told for the result that needs it most: the one nearest to its limit. Null
    /// where no result rests on an assumed repeatability.
    /// </summary>
    public static string? WhatATestChanges(StripJudgement judgement, Assumptions assumptions) => judgement.Results
        .Where(r => r.RestsOnAssumption.HasFlag(Assumed.Repeatability))
        .OrderBy(r => r.Verdict is { } verdict ? Math.Abs(verdict.ProbabilityInside - 0.5) : 1)
        .Select(r => AssumptionWords.WhatATestChanges(r, assumptions))
        .FirstOrDefault();

    private static string WhatHelps(Assumed assumed) => string.Join(" and ", new[]
    {
        assumed.HasFlag(Assumed.Repeatability)
            ? "a repeatability test of ten minutes puts the instrument's own figure in its place (acquire repeatability)" : null,
        assumed.HasFlag(Assumed.Zero) ? "a calibration check ties the zero (acquire check)" : null,
    }.OfType<string>());
}
