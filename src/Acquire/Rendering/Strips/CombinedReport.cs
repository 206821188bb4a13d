using Acquire.Analysis.Judgement;

namespace Acquire.Rendering.Strips;

/// <summary>Strips that ran at one state of the process, taken together.</summary>
internal static class CombinedReport
{
    public static void Write(IAnsiConsole console, ImmutableArray<CombinedResult> results, int strips)
    {
        console.Line($"{Numbers.Count(strips, "strip")} taken together: the mean deviation, and how strips scatter beyond their reading.");
        var table = Tables.New("mean deviation", "", "±", "run scatter", "reading scatter", "inside", "verdict");
        foreach (var result in results)
        {
            table.Row(
                result.Parameter.Name,
                result.Channel is { } channel ? Domain.Densitometry.Channels.Word(channel) : "",
                $"{Numbers.Deviation(result.Mean)} ±{result.Budget.StandardUncertainty.ToString("0.000", CultureInfo.InvariantCulture)}",
                result.RunScatter.ToString("0.000", CultureInfo.InvariantCulture),
                result.ReadingScatter.ToString("0.000", CultureInfo.InvariantCulture),
                result.Verdict is { } v ? VerdictReport.Percent(v.ProbabilityInside) : "",
                result.Verdict is { } verdict ? VerdictWord.Of(verdict.Verdict) : "no limits");
        }

        console.WriteTable(table);
    }

    public static object Json(ImmutableArray<CombinedResult> results) => results.Select(r => new
    {
        r.Parameter.Key,
        r.Parameter.Name,
        Channel = r.Channel is { } channel ? Domain.Densitometry.Channels.Word(channel) : null,
        r.Deviations,
        r.Mean,
        Uncertainty = r.Budget.StandardUncertainty,
        r.RunScatter,
        r.ReadingScatter,
        Verdict = VerdictWord.Json(r.Verdict?.Verdict),
        r.Verdict?.ProbabilityInside,
    });
}
