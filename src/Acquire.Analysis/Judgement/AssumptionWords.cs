using Acquire.Analysis.Gauge;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Analysis.Judgement;

/// <summary>What the user is told where a number rests on an assumption, said in one place.</summary>
public static class AssumptionWords
{
    /// <summary>Degrees of freedom that a usual test gives a channel: three patches, ten reads each.</summary>
    private const int TestFreedom = 27;

    /// <summary>What rests on it, such as "rests on an assumed repeatability"; null for nothing.</summary>
    public static string? Rests(Assumed assumed) => assumed switch
    {
        Assumed.None => null,
        Assumed.Repeatability => "rests on an assumed repeatability",
        Assumed.Zero => "rests on an assumed zero",
        _ => "rests on an assumed repeatability and an assumed zero",
    };

    /// <summary>What is assumed, a sentence; null for nothing.</summary>
    public static string? What(Assumed assumed, Assumptions assumptions) => assumed == Assumed.None ? null : string.Join(" ", new[]
    {
        assumed.HasFlag(Assumed.Repeatability)
            ? string.Create(CultureInfo.InvariantCulture, $"Too little is known of how this instrument repeats: one read is taken to "
                + $"scatter by {assumptions.Repeatability:0.000#}, "
                + $"more in dense patches (common practice).") : null,
        assumed.HasFlag(Assumed.Zero)
            ? string.Create(CultureInfo.InvariantCulture, $"Nothing ties the zero of this reading to that of the reference: each is "
                + $"taken to be set within ±{assumptions.Zero:0.000#} "
                + $"(common practice); a calibration check would.") : null,
    }.OfType<string>());

    /// <summary>
    /// What a repeatability test of ten minutes would change for a result: the assumption goes, and what the instrument shows comes in its
    /// place. Null where its uncertainty does not rest on an assumed repeatability.
    /// </summary>
    public static string? WhatATestChanges(ParameterResult result, Assumptions assumptions)
    {
        if (!result.RestsOnAssumption.HasFlag(Assumed.Repeatability) || result.Budget is not { } budget)
        {
            return null;
        }

        var (now, then) = (Half(budget), Half(Tested(budget, assumptions)));
        return then < now
            ? string.Create(CultureInfo.InvariantCulture, $"A repeatability test of ten minutes would put the instrument's own figure "
                + $"in place of the assumption: if it repeats to "
                + $"{assumptions.UsualRepeatability:0.000#}, as many do, {result.Label} would be known to ±{then:0.000} and not "
                    + $"±{now:0.000}.")
            : "A repeatability test of ten minutes would put the instrument's own figure in place of the assumption.";
    }

    /// <summary>Half-width of the interval at 95 %.</summary>
    private static double Half(Budget budget) => budget.CoverageFactor() * budget.StandardUncertainty;

    /// <summary>The budget as it would be with a test by which the instrument repeats as many do.</summary>
    internal static Budget Tested(Budget budget, Assumptions assumptions)
    {
        var share = assumptions.UsualRepeatability / assumptions.Repeatability;
        return new Budget(
        [
            .. budget.Components.Select(c => c is { IsAssumed: true, Of: Doubt.Reads or Doubt.Reference }
                ? c with { Contribution = c.Contribution * share, DegreesOfFreedom = TestFreedom, IsAssumed = false } : c),
        ]);
    }
}
