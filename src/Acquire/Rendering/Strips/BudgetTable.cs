using Acquire.Analysis.Judgement;

namespace Acquire.Rendering.Strips;

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
                .. names.Select(n => budget.Components.FirstOrDefault(c => c.Name == n) is { } part ? Four(Math.Abs(part.Contribution)) : ""),
                Four(budget.StandardUncertainty),
                double.IsPositiveInfinity(budget.DegreesOfFreedom) ? "∞" : Math.Floor(budget.DegreesOfFreedom).ToString(CultureInfo.InvariantCulture),
                Share(result.Verdict?.ProbabilityInsideAction),
                result.Limits.Control is null ? "" : Share(result.Verdict?.ProbabilityInside),
                result.Verdict is { } verdict ? VerdictWord.Of(verdict.Verdict) : "",
            ]);
        }

        console.WriteTable(table);
        console.Line("Standard uncertainties. An error that strip and aim share cancels and is 0; the aim's own error is the same for every strip of the lot.");
        console.Line("The probability of a colour spread is that of the range of three normal numbers, not of its u.");
    }

    private static string Four(double value) => value.ToString("0.0000", CultureInfo.InvariantCulture);

    private static string Share(double? probability) => probability is { } p ? VerdictReport.Percent(p) : "";
}
