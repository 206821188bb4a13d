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
        var (@out, open) =
            (judged.FindAll(r => r.Verdict!.Verdict == Verdict.OutOfControl), judged.FindAll(r => r.Verdict!.Verdict == Verdict.Undecided));
        if (@out.Count == 0 && open.Count == 0)
        {
            console.Line($"With the uncertainty counted in ({level}): in control in everything that has limits.");
            return;
        }

        console.Line($"With the uncertainty counted in ({level}): "
            + string.Join("; ", new[] { Named(@out, "out of control in "), Named(open, "undecided in ") }.OfType<string>()) + ".");
        foreach (var result in open)
        {
            console.Line($"  {result.Label}: inside {result.Verdict!.Limit} with {Numbers.Tenths(result.Verdict.ProbabilityInside)}; "
                + $"{result.Verdict.WhatDecides}.");
        }
    }

    private static string? Named(List<ParameterResult> results, string how) =>
        results.Count == 0 ? null : how + string.Join(", ", results.Select(r => r.Label));
}

/// <summary>What a speed point means by ISO 6, in a sentence.</summary>
internal static class SpeedNote
{
    public static string? Of(ParameterResult result)
    {
        if (result is not { Speed: { } speed, Value: { } logH })
        {
            return null;
        }

        var what = speed.Speed is { } s
            ? Text($"log H {logH:0.00}, speed 0.8 / Hm = {s:0.#} by the arithmetic of ISO 6 (from memory)")
            : Text($"log H {logH:0.00} on the strip's own scale, so only its shift from aim means something");
        return (speed.DensityRise, speed.Fits) switch
        {
            ({ } rise, true) => Text($"{what}; {rise:0.00} denser 1.30 log H further, as ISO 6 asks (0.80 ± 0.05)."),
            ({ } rise, _) => Text($"{what}; {rise:0.00} denser 1.30 log H further, where ISO 6 asks for 0.80 ± 0.05."),
            _ => $"{what}; the strip ends before 1.30 log H further.",
        };
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

/// <summary>How zones look at a terminal. The word carries the meaning; colour only underlines it.</summary>
internal static class ZoneStyle
{
    public static Style Of(Zone? zone) => zone switch
    {
        Zone.Action => new Style(Color.Yellow, decoration: Decoration.Bold),
        Zone.Out => new Style(Color.Red, decoration: Decoration.Bold),
        _ => Spectre.Console.Style.Plain,
    };
}
