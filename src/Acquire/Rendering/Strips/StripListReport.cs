using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;

namespace Acquire.Rendering.Strips;

/// <summary>Strips, a line each.</summary>
internal static class StripListReport
{
    public static void Write(IAnsiConsole console, ImmutableArray<JudgedStrip> strips, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, strips.Select(StripListJson.Of));
            return;
        }

        if (strips.IsEmpty)
        {
            console.Line("No strips. Read one: acquire read --lot CODE --instrument NAME");
            return;
        }

        var table = Tables.New("strip", "read", "lot", "line", "bottle", "zone", "verdict", "with");
        foreach (var (strip, judgement) in strips)
        {
            table.AddRow(
            [
                new Text(StripId.ShortForm(strip.Id)),
                new Text(Numbers.Moment(strip.Provenance.At, time)),
                new Text(strip.LotCode),
                new Text(strip.Tags.Line ?? ""),
                new Text(strip.Tags.Bottle ?? ""),
                new Text(strip.Aims.IsEmpty ? "no aims" : judgement.Overall.Word(), ZoneStyle.Of(judgement.Overall)),
                new Text(judgement.Verdict is { } verdict ? verdict.Word() + AssumptionLine.MarkOf(judgement.RestsOnAssumption) : ""),
                new Text(Tie(strip)),
            ]);
        }

        console.WriteTable(table);
        var assumed = strips.Where(s => s.Judgement.Verdict is not null)
            .Aggregate(Assumed.None, (all, s) => all | s.Judgement.RestsOnAssumption);
        if (AssumptionLine.Of(assumed) is { } line)
        {
            console.Line(line);
        }
    }

    /// <summary>The strip that it goes with; a strip read again after a treatment says nothing about the process as it ran.</summary>
    private static string Tie(StripRecord strip) => strip.Tags switch
    {
        { Reread: { } again } => $"{StripId.ShortForm(again.Of)} again, after {again.After.Word()}",
        { Confirms: { } first } => $"second to {StripId.ShortForm(first)}",
        { PairedWith: { } pair } => $"pair of {StripId.ShortForm(pair)}",
        _ => "",
    };
}

/// <summary>The revisions of a strip record, first to newest.</summary>
internal static class StripHistoryReport
{
    public static void Write(IAnsiConsole console, IReadOnlyList<StripRecord> revisions, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, StripRevisionJson.Of(revisions));
            return;
        }

        console.Line($"Strip {StripId.ShortForm(revisions[0].Id)}, {Numbers.Count(revisions.Count, "revision")}");
        foreach (var (index, revision) in revisions.Index())
        {
            WriteRevision(console, revision, index == 0 ? null : revisions[index - 1], time);
        }
    }

    public static void WriteRevision(IAnsiConsole console, StripRecord revision, StripRecord? before, TimeProvider time)
    {
        var (number, by, at) = (revision.Revision.Number, revision.Revision.By, Numbers.Moment(revision.Revision.At, time));
        console.Line(string.Create(CultureInfo.InvariantCulture, $"Revision {number}, {at}, by {by}: {revision.Revision.Reason}"));
        foreach (var change in before is null ? [] : RevisionChanges.Between(before, revision))
        {
            console.Line($"  {change.Field}: {change.Before ?? "none"} → {change.After ?? "none"}");
        }
    }
}
