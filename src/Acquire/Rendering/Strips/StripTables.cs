using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;

namespace Acquire.Rendering.Strips;

/// <summary>Every read of a strip, excluded ones with their reason, and the raw line behind it.</summary>
internal static class ReadsTable
{
    public static void Write(IAnsiConsole console, StripRecord strip)
    {
        var reads = strip.Patches.SelectMany(p => p.Reads).ToList();
        var channels = Channels.All.Where(c => reads.Exists(r => r.Reading.Densities[c] is not null)).ToList();
        var table = Tables.New(["patch", "read", .. channels.Select(c => c.Word()), "counts", "line as received"]);
        foreach (var patch in strip.Patches)
        {
            foreach (var (index, read) in patch.Reads.Index())
            {
                var counts = (patch.LeftOut ?? read.Exclusion) is { } exclusion ? $"no: {exclusion.Reason}" : "yes";
                counts = read.Note is { } note ? $"{counts} ({note})" : counts;
                table.Row(
                [
                    patch.Patch.Name,
                    (index + 1).ToString(CultureInfo.InvariantCulture),
                    .. channels.Select(c => read.Reading.Densities[c]?.ToString() ?? ""),
                    counts,
                    read.Reading.IsEntered ? "entered by hand" : string.Join(" ⏎ ", read.Reading.Lines.Select(l => l.Text)),
                ]);
            }

            if (patch.Reads.IsEmpty && patch.LeftOut is { } leftOut)
            {
                table.Row([patch.Patch.Name, "", .. channels.Select(_ => ""), $"left out: {leftOut.Reason}", ""]);
            }
        }

        console.WriteTable(table);
    }

    /// <summary>The means of a strip that has no aims to be held against.</summary>
    public static void WriteMeans(IAnsiConsole console, StripRecord strip)
    {
        var channels = strip.Means.Select(m => m.Channel).Distinct().Order().ToList();
        var table = Tables.New(["mean density", .. channels.Select(c => c.Word())]);
        foreach (var patch in strip.Patches)
        {
            table.Row(
                [patch.Patch.Name, .. channels.Select(c => strip.Mean(patch.Patch.Key, c) is { } mean ? Numbers.Density(mean.Mean) : "")]);
        }

        console.WriteTable(table);
    }
}

/// <summary>
/// The steps of a strip that draws a curve: density and its deviation from aim, step by step. Other strips have no such table.
/// </summary>
internal static class CurveTable
{
    public static void Write(IAnsiConsole console, StripRecord strip)
    {
        if (strip.JudgedBy.LayoutOf(strip.Layout) is not { } layout || layout.Patches.All(p => p is { LogH: null, Role: PatchRole.Judged }))
        {
            return;
        }

        var channels = strip.JudgedBy.ChannelsNeeded;
        var table = Tables.New(["step", "log H", .. channels.Select(c => c.Word())]);
        foreach (var patch in strip.Layout.Patches)
        {
            var logH = layout.Find(patch.Key)?.LogH?.ToString("0.00", CultureInfo.InvariantCulture) ?? "";
            table.Row([patch.Name, logH, .. channels.Select(c => Cell(strip, patch.Key, c))]);
        }

        console.WriteTable(table);
    }

    private static string Cell(
        StripRecord strip, string patchKey, Channel channel) => (strip.Mean(patchKey, channel), strip.Aim(patchKey, channel)) switch
    {
        (null, _) => "not known",
        ({ } mean, null) => Numbers.Density(mean.Mean),
        ({ } mean, { } aim) => $"{Numbers.Density(mean.Mean)} {Numbers.Deviation(mean.Mean - aim.Value)}",
    };
}

/// <summary>The uncertainty budget of every parameter and channel.</summary>
internal static class BudgetTable
{
    public static void Write(IAnsiConsole console, StripJudgement judgement)
    {
        var results = judgement.Results.Where(r => r is { OnStrip: true, Budget: not null }).ToList();
        var names = results.SelectMany(r => r.Budget!.Components.Select(c => c.Name)).Distinct().ToList();
        var table = Tables.New(["u of", .. names, "together", "ν", "inside action", "inside control", "verdict"]);
        foreach (var result in results)
        {
            var budget = result.Budget!;
            table.Row(
            [
                result.Label,
                .. names.Select(
                    n => budget.Components.FirstOrDefault(c => c.Name == n) is { } part ? Numbers.Four(Math.Abs(part.Contribution)) : ""),
                Numbers.Four(budget.StandardUncertainty),
                double.IsPositiveInfinity(budget.DegreesOfFreedom)
                    ? "∞"
                    : Math.Floor(budget.DegreesOfFreedom).ToString(CultureInfo.InvariantCulture),
                Share(result.Verdict?.ProbabilityInsideAction),
                result.Limits.Control is null ? "" : Share(result.Verdict?.ProbabilityInside),
                result.Verdict is { } verdict ? verdict.Verdict.Word() : "",
            ]);
        }

        console.WriteTable(table);
        console.Line("Standard uncertainties. An error that strip and aim share cancels and is 0; the aim's own error is the same for "
            + "every strip of the lot.");
        console.Line("The probability of a colour spread is that of the range of three normal numbers, not of its u.");
    }

    private static string Share(double? probability) => probability is { } p ? Numbers.Tenths(p) : "";
}

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
        // The sentence is on the strip: all results asked at once.
        var (@out, open) = (judgement.Whole!.Out.ToList(), judgement.Whole.Open.ToList());
        var rests = AssumptionWords.Rests(judgement.RestsOnAssumption) is { } words ? $" This {words}." : "";
        if (@out.Count == 0 && open.Count == 0)
        {
            console.Line($"With the uncertainty counted in ({level}): in control in everything that has limits.{rests}");
            return;
        }

        console.Line($"With the uncertainty counted in ({level}): "
            + string.Join("; ", new[] { Named(@out, "out of control in "), Named(open, "undecided in ") }.OfType<string>()) + "." + rests);
        if (judged.Count > 1)
        {
            console.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"  That is said of the strip as a whole: its {judged.Count} results are asked together, so that a strip which is inside "
                + $"everywhere is called out of control in {(1 - first.Level) * 100:0.##} % of cases at most."));
        }

        foreach (var result in open)
        {
            console.Line($"  {result.Label}: inside {result.Verdict!.Limit} with {Numbers.Tenths(result.Verdict.ProbabilityInside)}; "
                + $"{WholeStrip.WhatDecides(result)}.");
        }
    }

    private static string? Named(List<ParameterResult> results, string how) =>
        results.Count == 0 ? null : how + string.Join(", ", results.Select(r => r.Label));
}

/// <summary>The true spread without the bias of the range, in a sentence that follows another.</summary>
internal static class SpreadNote
{
    public static string Of(SpreadResult spread) => spread.Estimate() is var (estimate, low, high)
        ? $" Noise adds to a spread; without that it is about {Numbers.Density(estimate)}, between {Numbers.Density(low)} and "
            + $"{Numbers.Density(high)} with 95 %."
        : "";
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
