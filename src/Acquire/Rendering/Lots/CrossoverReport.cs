using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;

namespace Acquire.Rendering.Lots;

/// <summary>A crossover, for people and for programs.</summary>
internal static class CrossoverReport
{
    public static void Write(IAnsiConsole console, CrossoverResult result, TimeProvider time, bool json)
    {
        var (crossover, inForce, accepted) = result;
        if (json)
        {
            JsonOutput.Write(console, CrossoverJson.Of(result));
            return;
        }

        console.Line($"Crossover from lot {crossover.OldLot} to lot {crossover.NewLot}, {Numbers.Count(crossover.Pairs.Length, "pair")}");
        foreach (var (index, (old, young)) in crossover.Pairs.Index())
        {
            console.Line($"  pair {Numbers.Whole(index + 1)}: {StripId.ShortForm(old.Id)} and {StripId.ShortForm(young.Id)}, read "
                + Numbers.Moment(young.Provenance.At, time));
        }

        if (!crossover.Rows.IsEmpty)
        {
            WriteTable(console, crossover);
        }

        console.Line(crossover.Words());
        if (SameDay(crossover, time) is { } close)
        {
            console.Line(close);
        }

        console.Line(accepted
            ? $"ACCEPTED by {inForce!.By}: strips of lot {crossover.NewLot} are judged by the adjusted aims from now on; "
                + "those read before keep theirs."
            : Standing(result, time));
    }

    private static string Standing(CrossoverResult result, TimeProvider time)
    {
        var (crossover, inForce, _) = result;
        var since = inForce is null
            ? ""
            : $"In force since {Numbers.Moment(inForce.At, time)}, accepted by {inForce.By}: the adjustment from lot "
                + $"{inForce.FromLotCode}, {Numbers.Count(inForce.Pairs.Length, "pair")} ({inForce.Reason}). ";
        return since + (result.IsInForce
            ? "It rests on these pairs; there is nothing more to accept."
            : crossover is { IsEnough: true, Agrees: false }
                ? $"Nothing was changed. To accept{(inForce is null ? "" : " this one instead")}: acquire lot crossover "
                    + $"{crossover.OldLot} {crossover.NewLot} --accept --reason WHY"
                : "Nothing was changed.");
    }

    private static void WriteTable(IAnsiConsole console, Crossover crossover)
    {
        var pairs = Enumerable.Range(1, crossover.Pairs.Length).Select(n => $"pair {Numbers.Whole(n)} old, new");
        var table = Tables.New(["patch", "channel", .. pairs, "new − old", "± 95 %", "", "aim", "adjusted", "u"]);
        foreach (var row in crossover.Rows)
        {
            var cells = row.Differences.Select(d => $"{Numbers.Deviation(d.Old)}, {Numbers.Deviation(d.New)}").ToList();
            table.Row(
            [
                row.Aim.PatchKey,
                row.Aim.Channel.Word(),
                .. cells.Concat(Enumerable.Repeat("", crossover.Pairs.Length - cells.Count)),
                Numbers.Deviation(row.Average),
                row.HalfInterval is { } half ? Numbers.Density(half) : "",
                row.Agrees ? "" : "differs",
                Numbers.Density(row.Aim.Reference + row.Aim.Correction),
                Numbers.Density(row.AdjustedAim),
                Numbers.Four(row.AdjustedUncertainty),
            ]);
        }

        console.WriteTable(table);
        console.Line("Deviations from aim: the old strip's from the aim it was judged by, the new one's from the new lot's own aim. ± "
            + "95 % is by Student's t from pair to pair.");
    }

    /// <summary>When the pairs were processed is not known; when they were read is a hint.</summary>
    private static string? SameDay(Crossover crossover, TimeProvider time)
    {
        var days = crossover.Pairs.Select(p => TimeZoneInfo.ConvertTime(p.New.Provenance.At, time.LocalTimeZone).Date).Distinct().Count();
        return crossover.Pairs.Length > 1 && days < crossover.Pairs.Length
            ? "Some pairs were read on one day. They count as pairs only where they were processed at separate times."
            : null;
    }
}
