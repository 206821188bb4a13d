using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.StripWork;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;

namespace Acquire.Rendering.Strips;

/// <summary>A second strip held against the first, and a strip held against its own earlier reading.</summary>
internal static class StripWorkReport
{
    public static void Write(IAnsiConsole console, StripTies ties)
    {
        if (ties.Confirmation is { } pair)
        {
            WriteChanges(console, pair.Changes, "first", "second");
            console.Line(pair.Words());
        }

        if (ties.Again is { } again)
        {
            WriteChanges(console, again.Changes, "before", "now");
            foreach (var sentence in again.Words())
            {
                console.Line(sentence);
            }
        }
    }

    public static object? Json(SecondStrip? pair) =>
        pair is null ? null : new { pair.Verdict, Words = pair.Words(), Changes = Json(pair.Changes) };

    public static object? Json(SecondReading? again) => again is null ? null : new
    {
        Treatment = again.Treatment.Word(),
        CameBack = again.CameBack.Select(c => c.First.Label),
        Stayed = again.Stayed.Select(c => c.First.Label),
        Words = again.Words(),
        Changes = Json(again.Changes),
    };

    private static object Json(ImmutableArray<ParameterChange> changes) => changes.Select(c => new
    {
        c.First.Parameter.Key,
        c.First.Label,
        First = c.First.Deviation,
        FirstZone = c.First.Zone,
        Second = c.Second.Deviation,
        SecondZone = c.Second.Zone,
        c.Change,
        Uncertainty = c.StandardUncertainty,
        c.IsReal,
    });

    private static void WriteChanges(IAnsiConsole console, ImmutableArray<ParameterChange> changes, string one, string other)
    {
        var table = Tables.New("deviation from aim", one, other, "change", "");
        foreach (var change in changes)
        {
            var u = change.StandardUncertainty is { } known ? " ±" + known.ToString("0.000", CultureInfo.InvariantCulture) : "";
            table.Row(
                change.First.Label,
                Cell(change.First),
                Cell(change.Second),
                change.Change is { } moved ? Numbers.Deviation(moved) + u : "not known",
                change.IsReal == true ? "more than reading explains" : "");
        }

        console.WriteTable(table);
    }

    private static string Cell(ParameterResult result) => result.Deviation is { } deviation
        ? Numbers.Deviation(deviation) + (result.Zone is null or Zone.Inside ? "" : " " + result.Zone.Word().ToUpperInvariant())
        : "not known";
}

/// <summary>Strips that ran at one state of the process, taken together.</summary>
internal static class CombinedReport
{
    public static void Write(IAnsiConsole console, StripsTogether together, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, new { Strips = together.Strips.Select(s => s.Id), Parameters = Json(together.Results) });
            return;
        }

        console.Line(Numbers.Count(together.Strips.Length, "strip")
            + " taken together: the mean deviation, and how strips scatter beyond their reading.");
        var table = Tables.New("mean deviation", "", "±", "run scatter", "reading scatter", "inside", "verdict");
        foreach (var result in together.Results)
        {
            table.Row(
                result.Parameter.Name,
                result.Channel?.Word() ?? "",
                $"{Numbers.Deviation(result.Mean)} ±{result.Budget.StandardUncertainty.ToString("0.000", CultureInfo.InvariantCulture)}"
                    + AssumptionLine.MarkOf(result.RestsOnAssumption),
                result.RunScatter.ToString("0.000", CultureInfo.InvariantCulture),
                result.ReadingScatter.ToString("0.000", CultureInfo.InvariantCulture),
                result.Verdict is { } v ? Numbers.Tenths(v.ProbabilityInside) : "",
                result.Verdict is { } verdict ? verdict.Verdict.Word() : "no limits");
        }

        console.WriteTable(table);
        if (AssumptionLine.Of(together.Results.Aggregate(Assumed.None, (all, r) => all | r.RestsOnAssumption)) is { } assumed)
        {
            console.Line(assumed);
        }
    }

    private static object Json(ImmutableArray<CombinedResult> results) => results.Select(r => new
    {
        r.Parameter.Key,
        r.Parameter.Name,
        Channel = r.Channel?.Word(),
        r.Deviations,
        r.Mean,
        Uncertainty = r.Budget.StandardUncertainty,
        RestsOnAssumed = AssumptionLine.Code(r.RestsOnAssumption),
        r.RunScatter,
        r.ReadingScatter,
        Verdict = (r.Verdict?.Verdict).Code(),
        r.Verdict?.ProbabilityInside,
    });
}
