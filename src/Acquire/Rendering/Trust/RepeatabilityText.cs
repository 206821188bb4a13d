using Acquire.Analysis.Gauge;
using Spectre.Console;

namespace Acquire.Rendering.Trust;

/// <summary>A repeatability test for people: the verdict first, then what it rests on.</summary>
internal static class RepeatabilityText
{
    public static void Write(IAnsiConsole console, RepeatabilityReport report, RepeatabilityComparison? comparison)
    {
        console.Line(Verdict(report));
        WriteChannels(console, report);
        WritePatches(console, report);
        WriteLimits(console, report);
        WriteComparison(console, comparison);
        foreach (var note in report.Notes)
        {
            console.Line($"  {note}");
        }
    }

    public static string Verdict(RepeatabilityReport report)
    {
        var failed = report.Channels.Where(c => !c.Specification.Passes).Select(c => c.Channel.Word()).ToList();
        return failed.Count == 0
            ? $"PASSED: the reads scatter no more than the specification of {Sigma(report)} allows."
            : $"FAILED in {string.Join(", ", failed)}: the reads scatter more than the specification of {Sigma(report)} allows. "
                + "Clean the aperture and the film, let the lamp warm up, and test again; if it fails again, the instrument needs service.";
    }

    public static string Four(double value) => value.ToString("0.0000", CultureInfo.InvariantCulture);

    public static string Percent(double share) => share.ToString("0 %", CultureInfo.InvariantCulture);

    private static string Sigma(RepeatabilityReport report) =>
        string.Join('/', report.Channels.Select(c => c.Specification.Sigma.ToString("0.000##", CultureInfo.InvariantCulture)).Distinct());

    private static void WriteChannels(IAnsiConsole console, RepeatabilityReport report)
    {
        var table = Tables.New("channel", "s", "95 % interval", "r = 2.8 s", "within", "placement", "step's share", "n", "ν", "");
        foreach (var channel in report.Channels)
        {
            var s = channel.Pooled;
            table.Row(
                channel.Channel.Word(),
                Four(s.S),
                $"{Four(s.SLow)} … {Four(s.SHigh)}",
                Four(s.RepeatabilityLimit),
                s.SWithin is { } within ? Four(within) : "",
                s.SPlacement is { } placement ? Four(placement) : "",
                Percent(s.ResolutionShare),
                s.Reads.ToString(CultureInfo.InvariantCulture),
                s.DegreesOfFreedom.ToString(CultureInfo.InvariantCulture),
                channel.Specification.Passes ? "passed" : "FAILED");
        }

        console.WriteTable(table);
    }

    private static void WritePatches(IAnsiConsole console, RepeatabilityReport report)
    {
        Channel[] channels = [.. report.Channels.Select(c => c.Channel)];
        var table = Tables.New(["patch", .. channels.Select(c => $"{c.Letter()} mean"), .. channels.Select(c => $"{c.Letter()} s"), "reads"]);
        foreach (var patch in report.Channels.SelectMany(c => c.Patches).GroupBy(p => p.Patch, StringComparer.OrdinalIgnoreCase))
        {
            var by = patch.ToDictionary(p => p.Channel);
            table.Row(
            [
                patch.Key,
                .. channels.Select(c => by.TryGetValue(c, out var p) ? Numbers.Density(p.Level) : ""),
                .. channels.Select(c => by.TryGetValue(c, out var p) && p.Scatter is { } s ? Four(s.S) : ""),
                patch.Max(p => p.Reads).ToString(CultureInfo.InvariantCulture),
            ]);
        }

        console.WriteTable(table);
    }

    private static void WriteLimits(IAnsiConsole console, RepeatabilityReport report)
    {
        if (report.Limits.IsEmpty)
        {
            return;
        }

        var table = Tables.New("parameter", "channel", "limit", "6 s of its width", "reads per patch");
        foreach (var use in report.Limits)
        {
            table.Row(
                use.Parameter.Name,
                use.Channel?.Word() ?? "",
                use.IsControl ? "control" : "action",
                Percent(use.Share),
                use.ReadsNeeded?.ToString(CultureInfo.InvariantCulture) ?? "no number is enough");
        }

        console.WriteTable(table);
    }

    private static void WriteComparison(IAnsiConsole console, RepeatabilityComparison? comparison)
    {
        if (comparison is null)
        {
            return;
        }

        foreach (var change in comparison.Channels)
        {
            console.Line($"  {change.Channel.Word()}: s was {Four(change.Before)} in the test before, now {Four(change.Now)}: "
                + (change.IsSignificant ? "more than chance explains (F test, 5 %)." : "no more than chance explains."));
        }

        foreach (var drift in comparison.Drifts.Where(d => d.IsSignificant))
        {
            console.Line($"  {drift.Patch} {drift.Channel.Word()}: the level moved by {Numbers.Deviation(drift.Drift)} since the test before. "
                + "If it is the same piece of film, check zero and slope.");
        }
    }
}
