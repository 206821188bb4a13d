using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Strips;

/// <summary>What a strip says with its uncertainty counted in: the verdict, and what would settle what is undecided.</summary>
internal static class VerdictReport
{
    public static void Write(IAnsiConsole console, StripJudgement judgement)
    {
        var judged = judgement.Results.Where(r => r.Verdict is not null).ToList();
        if (judged is not [{ Verdict: { } first }, ..])
        {
            return;
        }

        var level = first.Level.ToString("0.## %", CultureInfo.InvariantCulture);
        var (@out, open) = (judged.FindAll(r => r.Verdict!.Verdict == Verdict.OutOfControl), judged.FindAll(r => r.Verdict!.Verdict == Verdict.Undecided));
        if (@out.Count == 0 && open.Count == 0)
        {
            console.Line($"With the uncertainty counted in ({level}): in control in everything that has limits.");
            return;
        }

        console.Line($"With the uncertainty counted in ({level}): "
            + string.Join("; ", new[] { Named(@out, "out of control in "), Named(open, "undecided in ") }.OfType<string>()) + ".");
        foreach (var result in open)
        {
            console.Line($"  {result.Label}: inside {result.Verdict!.Limit} with {Percent(result.Verdict.ProbabilityInside)}; {result.Verdict.WhatDecides}.");
        }
    }

    public static string Percent(double share) => share switch
    {
        > 0.999 => "over 99.9 %",
        < 0.001 => "under 0.1 %",
        _ => share.ToString("0.0 %", CultureInfo.InvariantCulture),
    };

    private static string? Named(List<ParameterResult> results, string how) => results.Count == 0 ? null : how + string.Join(", ", results.Select(r => r.Label));
}
