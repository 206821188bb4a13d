using Acquire.Bench.Strips;
using Acquire.Storage.Strips;

namespace Acquire.Rendering.Strips;

/// <summary>The revisions of a strip record, first to newest.</summary>
internal static class StripHistoryReport
{
    public static void Write(IAnsiConsole console, IReadOnlyList<StripRecord> revisions, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, revisions.Select((r, i) => Json(r, i == 0 ? null : revisions[i - 1])));
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

    /// <summary>One revision for other programs.</summary>
    public static object Json(StripRecord revision, StripRecord? before) => new
    {
        revision.Id,
        Revision = revision.Revision.Number,
        revision.Revision.By,
        revision.Revision.At,
        revision.Revision.Reason,
        Changes = before is null ? [] : RevisionChanges.Between(before, revision),
    };
}
