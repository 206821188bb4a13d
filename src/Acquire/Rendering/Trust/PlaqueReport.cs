using Acquire.Bench.Trust;

namespace Acquire.Rendering.Trust;

/// <summary>Plaques for people and for programs.</summary>
internal static class PlaqueReport
{
    public static void WriteList(IAnsiConsole console, ImmutableArray<ListedPlaque> rows, TimeProvider time, bool json)
    {
        var today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
        console.WriteList(
            rows,
            json,
            PlaqueJson.Of,
            "No plaques yet. Add one: acquire plaque add NAME --patch \"low 0.05 0.06 0.07 ± 0.01\" --patch …",
            ["plaque", "patches", "tolerance", "certificate until", "last check", "next due"],
            r =>
            [
                r.Plaque.Name,
                string.Join(' ', r.Plaque.Patches.Select(p => p.Patch.Key)),
                $"±{Numbers.Density(r.Plaque.Tolerance)}",
                Numbers.Day(r.Plaque.Expires) + (r.Plaque.IsExpiredOn(today) ? " expired" : ""),
                r.Last is { } last ? $"{Numbers.Moment(last.Provenance.At, time)} {(last.Passed ? "passed" : "FAILED")}" : "never",
                r.Last is { Passed: true, DueAt: var due }
                    ? Numbers.Moment(due, time) + (due <= time.GetUtcNow() ? " overdue" : "")
                    : "now",
            ]);
    }

    public static void WriteOne(IAnsiConsole console, Plaque plaque, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, PlaqueJson.Of(plaque));
            return;
        }

        console.Line($"Plaque {plaque.Name}: tolerance ±{Numbers.Density(plaque.Tolerance)}, a check every {plaque.DueDays} days"
            + (plaque.Expires is { } day ? $", certificate until {Numbers.Day(day)}" : ""));
        if (plaque.Note is { } note)
        {
            console.Line($"Note: {note}");
        }

        var table = Tables.New(["patch", .. plaque.Channels.Select(c => c.Word()), "± (k = 2)"]);
        foreach (var patch in plaque.Patches)
        {
            table.Row([
                patch.Patch.Key, .. plaque.Channels.Select(c => patch.Certified[c]!.Value.ToString()), Numbers.Density(patch.Uncertainty)]);
        }

        console.WriteTable(table);
    }
}
