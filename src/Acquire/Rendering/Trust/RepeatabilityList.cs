using Acquire.Analysis.Gauge;
using Spectre.Console;

namespace Acquire.Rendering.Trust;

/// <summary>Repeatability tests in a list, for people and for programs.</summary>
internal static class RepeatabilityList
{
    public static void Write(
        IAnsiConsole console, IReadOnlyCollection<(RepeatabilityTest Test, RepeatabilityReport Report)> tests, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, tests.Select(t => new
            {
                t.Test.Id,
                ReadAt = t.Test.Provenance.At,
                ReadBy = t.Test.Provenance.By,
                t.Test.Provenance.Instrument,
                t.Test.SessionId,
                t.Test.ReadsPerPlacement,
                t.Test.Specification,
                t.Test.Passed,
                Result = RepeatabilityJson.Of(t.Report, null),
            }));
            return;
        }

        if (tests.Count == 0)
        {
            console.Line("No repeatability tests yet. Make one: acquire repeatability --port PORT --profile PROFILE --patches ld,hd");
            return;
        }

        Channel[] channels = [.. Channels.All.Where(c => tests.Any(t => t.Report[c] is not null))];
        var table = Tables.New(
            ["test", "by", "instrument", "patches", "reads", .. channels.Select(c => $"s {c.Letter()}"), "specification", ""]);
        foreach (var (test, report) in tests)
        {
            table.Row(
            [
                Numbers.Moment(test.Provenance.At, time),
                test.Provenance.By,
                test.Provenance.Instrument?.Profile ?? "entered",
                string.Join(' ', test.Patches.Select(p => p.Patch.Key)),
                test.Patches.Max(p => p.Accepted.Count()).ToString(CultureInfo.InvariantCulture),
                .. channels.Select(c => report[c] is { } channel ? RepeatabilityText.Four(channel.Pooled.S) : ""),
                RepeatabilityText.Four(test.Specification),
                test.Passed ? "passed" : "FAILED",
            ]);
        }

        console.WriteTable(table);
    }
}
