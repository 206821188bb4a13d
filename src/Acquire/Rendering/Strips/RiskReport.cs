using Acquire.Analysis.Uncertainty;
using Acquire.Bench.History;

namespace Acquire.Rendering.Strips;

/// <summary>The level of verdicts as a guard band, and what the verdicts on a strip risk.</summary>
internal static class RiskReport
{
    public static void Write(IAnsiConsole console, double level, StripRisks? risks, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, RiskJson.Of(level, risks));
            return;
        }

        console.Line($"Verdicts ask for {level.ToString("0.## %", CultureInfo.InvariantCulture)}.");
        var doubt = (1 - level).ToString("0.## %", CultureInfo.InvariantCulture);
        console
            .Paragraph("", $"For one limit and a well known u that is a guard band inside it of w = {Two(GuardBand.MultipleOf(level))} U, "
            + $"U = 2 u. What is called in control at its very edge is outside with a chance of {doubt} (the consumer's risk); what is "
                + $"called "
            + $"out of control at the edge is inside with a chance of {doubt} (the producer's risk). In between it is undecided.");
        if (risks is not null)
        {
            Write(console, risks);
        }
    }

    private static void Write(IAnsiConsole console, StripRisks risks)
    {
        if (risks.Results.IsEmpty)
        {
            console.Line($"Strip {StripId.ShortForm(risks.Strip.Id)} has nothing with a limit, an aim and an uncertainty.");
            return;
        }

        console.WriteTable(Tables.Of(new Rows(
            ["parameter", "limit", "u", "w", "in from … to", "out from", "deviation", "verdict", "chance outside", "strips: in but outside",
                "inside, not in"],
            risks.Results.Select(r => (string[])
            [
                r.Result.Label, r.Band.Limit.ToString(), Numbers.Four(r.Band.StandardUncertainty),
                r.Band.Width is { } width ? Numbers.Four(width) : "none",
                r.Band.AcceptsNothing ? "nowhere: u is too large" : Ends(r.Band.AcceptFrom, r.Band.AcceptTo, " … "),
                Ends(r.Band.RejectBelow, r.Band.RejectAbove, " / "), Numbers.Deviation(r.Result.Deviation!.Value),
                r.Result.Verdict!.Verdict.Word(), Numbers.Tenths(r.Outside), r.Global is { } g ? Numbers.Tenths(g.Consumer) : "",
                r.Global is { } p ? Numbers.Tenths(p.Producer) : "",
            ]))));
        console.Paragraph("", Process(risks));
    }

    private static string Process(StripRisks risks) => risks.Strips < StripRisks.FewestStrips
        ? $"Nothing is said of strips to come: the lot has {Numbers.Count(risks.Strips, "strip")} in this line, and the process's own "
            + "scatter "
            + $"takes {Numbers.Whole(StripRisks.FewestStrips)} at least."
        : risks.Results.All(r => r.Global is null)
            ? $"Nothing is said of strips to come: the {Numbers.Whole(risks.Strips)} strips of this lot and line scatter no more than "
                + "their "
                + "reading, or nothing can be called in control."
            : $"The last two columns are for strips to come, if the process goes on as in the {Numbers.Whole(risks.Strips)} strips of "
                + "this lot "
                + "and line; a column is empty where the strips scatter no more than their reading.";

    private static string Ends(double? low, double? high, string between) =>
        string.Join(between, new[] { low, high }.OfType<double>().Select(Numbers.Deviation));

    private static string Two(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
