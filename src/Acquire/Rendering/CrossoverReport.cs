using System.Globalization;
using Acquire.Analysis.StripWork;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Lots;
using Acquire.Storage.Strips;
using Acquire.Terminal;
using Spectre.Console;

namespace Acquire.Rendering;

/// <summary>A crossover, for people and for programs.</summary>
internal static class CrossoverReport
{
    public static void Write(IAnsiConsole console, Crossover crossover, AimAdjustment? accepted, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, Json(crossover, accepted));
            return;
        }

        console.Line($"Crossover from lot {crossover.OldLot} to lot {crossover.NewLot}, {Numbers.Count(crossover.Pairs.Length, "pair")}");
        foreach (var (index, (old, young)) in crossover.Pairs.Index())
        {
            console.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"  pair {index + 1}: {StripId.ShortForm(old.Id)} and {StripId.ShortForm(young.Id)}, read {Numbers.Moment(young.Provenance.At, time)}"));
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

        console.Line(accepted is null
            ? crossover is { IsEnough: true, Agrees: false }
                ? $"Nothing was changed. To accept: acquire lot crossover {crossover.OldLot} {crossover.NewLot} --accept --reason WHY"
                : "Nothing was changed."
            : $"ACCEPTED by {accepted.By}: strips of lot {crossover.NewLot} are judged by the adjusted aims from now on; those read before keep theirs.");
    }

    private static void WriteTable(IAnsiConsole console, Crossover crossover)
    {
        var pairs = Enumerable.Range(1, crossover.Pairs.Length).Select(n => string.Create(CultureInfo.InvariantCulture, $"pair {n} old, new"));
        var table = Tables.New(["patch", "channel", .. pairs, "new − old", "± 95 %", "aim", "adjusted aim", "u", ""]);
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
                Numbers.Density(row.Aim.Reference + row.Aim.Correction),
                Numbers.Density(row.AdjustedAim),
                row.AdjustedUncertainty.ToString("0.0000", CultureInfo.InvariantCulture),
                row.Agrees ? "" : "differs",
            ]);
        }

        console.WriteTable(table);
        console.Line("Deviations from aim: the old strip's from the aim it was judged by, the new one's from the new lot's own aim. ± 95 % is by Student's t from pair to pair.");
    }

    /// <summary>When the pairs were processed is not known; when they were read is a hint.</summary>
    private static string? SameDay(Crossover crossover, TimeProvider time)
    {
        var days = crossover.Pairs.Select(p => TimeZoneInfo.ConvertTime(p.New.Provenance.At, time.LocalTimeZone).Date).Distinct().Count();
        return crossover.Pairs.Length > 1 && days < crossover.Pairs.Length
            ? "Some pairs were read on one day. They count as pairs only where they were processed at separate times."
            : null;
    }

    private static object Json(Crossover crossover, AimAdjustment? accepted) => new
    {
        crossover.OldLot,
        crossover.NewLot,
        crossover.IsEnough,
        crossover.Agrees,
        Words = crossover.Words(),
        Pairs = crossover.Pairs.Select(p => new { Old = p.Old.Id, New = p.New.Id, ReadAt = p.New.Provenance.At }),
        Rows = crossover.Rows.Select(r => new
        {
            Patch = r.Aim.PatchKey,
            Channel = r.Aim.Channel.Word(),
            Deviations = r.Differences.Select(d => new { d.Old, d.New }),
            Difference = r.Average,
            r.Scatter,
            Uncertainty = r.PairUncertainty,
            r.HalfInterval,
            Aim = r.Aim.Reference + r.Aim.Correction,
            r.AdjustedAim,
            r.AdjustedUncertainty,
            r.Agrees,
        }),
        Accepted = accepted is null ? null : new { accepted.Id, accepted.By, accepted.At, accepted.Reason },
    };
}
