using Acquire.Analysis.Judgement;
using Acquire.Bench.Lots;
using Acquire.Bench.Readings;
using Acquire.Bench.Sessions;

namespace Acquire.Rendering.Lots;

/// <summary>Lots and their aims, for people and for programs.</summary>
internal static class LotReport
{
    public static void WriteList(IAnsiConsole console, ImmutableArray<ListedLot> lots, TimeProvider time, bool json)
    {
        var today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
        console.WriteList(
            lots, json, LotJson.Of, "No lots yet. Add one: acquire lot add CODE --process c41",
            ["lot", "process", "expires", "reference read"],
            l =>
            [
                l.Lot.Code,
                l.Lot.ProcessKey,
                Numbers.Day(l.Lot.Expires) + (l.Lot.IsExpiredOn(today) ? " expired" : ""),
                l.Reference is { } reference ? Numbers.Moment(reference.Provenance.At, time) : "not yet",
            ]);
    }

    public static void WriteOne(IAnsiConsole console, LotEntry entry, TimeProvider time, bool json) =>
        WriteOne(console, entry.Lot, entry.Reference, entry.InForce.Aims, entry.InForce.Repeatability, time, json);

    /// <summary>A reference that was just taken, with what its values give cause to ask.</summary>
    public static void WriteOne(IAnsiConsole console, KeptReference kept, TimeProvider time, bool json) =>
        WriteOne(console, kept.Lot, kept.Reference, kept.Aims, kept.Repeatability, time, json, kept.Question);

    private static void WriteOne(
        IAnsiConsole console,
        StripLot lot,
        LotReference? reference,
        ImmutableArray<Aim> aims,
        RepeatabilityInForce? repeatability,
        TimeProvider time,
        bool json,
        AskedQuestion? question = null)
    {
        if (json)
        {
            JsonOutput.Write(console, LotJson.Of(lot, reference, aims, repeatability, question));
            return;
        }

        console.Line($"Lot {lot.Code}, process {lot.ProcessKey}, {lot.Layout.Name}, "
            + $"{(lot.Expires is { } day ? $"expires {Numbers.Day(day)}" : "no expiry given")}");
        if (lot.StorageRule is { } rule)
        {
            console.Line($"Storage: {rule}");
        }

        if (lot.Note is { } note)
        {
            console.Line($"Note: {note}");
        }

        console.Line(reference is null
            ? "No reference yet, so no aims."
            : $"Aims from {Source(reference)} {Numbers.Moment(reference.Provenance.At, time)}"
                + $" by {reference.Provenance.By}, revision {reference.Revision.Number}");
        if (reference is not null)
        {
            console.Line(ReferenceWords.Origin(reference));
        }

        if (aims.IsDefaultOrEmpty)
        {
            return;
        }

        var isAdjusted = aims.Any(a => a.Adjustment != 0);
        string[] adjustment = isAdjusted ? ["crossover"] : [];
        var table = Tables.New(["patch", "channel", "reference", "correction", .. adjustment, "aim", "u(aim)"]);
        foreach (var aim in aims)
        {
            string[] moved = isAdjusted ? [Numbers.Deviation(aim.Adjustment)] : [];
            table.Row(
            [
                lot.Layout.Get(aim.PatchKey).Name,
                aim.Channel.Word(),
                Numbers.Density(aim.Reference),
                Numbers.Deviation(aim.Correction),
                .. moved,
                Numbers.Density(aim.Value),
                Numbers.Four(aim.StandardUncertainty),
            ]);
        }

        console.WriteTable(table);
        if (repeatability is not null)
        {
            console.Line($"u(aim) counts the repeatability test in force of {reference?.InstrumentName} beside "
                + "the reference's own reads.");
        }
    }

    private static string Source(LotReference reference) => reference switch
    {
        { BaselineStrips: { IsEmpty: false } strips } => $"the average of {Numbers.Count(strips.Length, "own strip")}, made",
        { SessionId: null, Provenance.Instrument: null } => "the reference strip, entered",
        _ => "the reference strip, read",
    };
}
