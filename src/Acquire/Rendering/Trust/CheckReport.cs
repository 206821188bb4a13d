using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;

namespace Acquire.Rendering.Trust;

/// <summary>Calibration checks for people: verdict, what to do, then the numbers.</summary>
internal static class CheckReport
{
    public static void Write(IAnsiConsole console, JudgedCheck judged, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, CheckJson.Of(judged));
            return;
        }

        var (check, report) = judged;
        console.Line(Verdict(judged));
        foreach (var advice in report.Channels.GroupBy(c => c.Advice))
        {
            console.Line($"  {string.Join(", ", advice.Select(c => c.Channel.Word()))}: {advice.Key}");
        }

        console.Line(check.Passed ? $"  Next check due {Numbers.Moment(check.DueAt, time)}." : "  Check again once that is done.");
        if (check.Plaque.IsExpiredOn(DateOnly.FromDateTime(time.GetLocalNow().DateTime)))
        {
            console.Line($"  The certificate of plaque {check.Plaque.Name} ran out on {Numbers.Day(check.Plaque.Expires)}: "
                + "plaques fade and get scratched.");
        }

        WritePatches(console, report);
        WriteAdjustments(console, report);
        foreach (var note in report.Notes)
        {
            console.Line($"  {note}");
        }
    }

    public static void WriteList(IAnsiConsole console, ImmutableArray<JudgedCheck> checks, TimeProvider time, bool json)
    {
        console.WriteList(
            checks, json, CheckJson.Of, "No calibration checks yet. Make one: acquire check --plaque NAME --instrument NAME",
            ["check", "plaque", "by", "instrument", "largest error", "zero R G B", "slope R G B", "", "next due"],
            judged =>
            {
                var (check, report) = judged;
                var worst = report.Channels.SelectMany(c => c.Patches).MaxBy(p => Math.Abs(p.Error))!;
                return
                [
                    Numbers.Moment(check.Provenance.At, time),
                    check.Plaque.Name,
                    check.Provenance.By,
                    check.Provenance.Instrument?.Name ?? "entered",
                    $"{Numbers.Deviation(worst.Error)} {worst.Patch} {worst.Channel.Word()}",
                    string.Join(' ', report.Channels.Select(c => $"{Mark(c.Channel)}{Numbers.Deviation(c.Zero.Value)}")),
                    string.Join(' ', report.Channels.Select(c => Mark(c.Channel) + (c.Slope is { } s ? Numbers.Density(s.Value) : "–"))),
                    check.Passed ? "passed" : "FAILED",
                    check.Passed ? Numbers.Moment(check.DueAt, time) : "now",
                ];
            });
    }

    // The columns are headed R G B; what stands under none of them carries its own letter.
    private static string Mark(Channel channel) => channel is Channel.Visual ? $"{channel.Letter()} " : "";

    private static string Verdict(JudgedCheck judged)
    {
        var (check, report) = judged;
        var tolerance = $"±{Numbers.Density(check.Plaque.Tolerance)}";
        return (check.Passed, report.Verdict) switch
        {
            (true, CheckVerdict.Pass) => $"PASSED: every patch of plaque {check.Plaque.Name} reads within {tolerance} of its certificate.",
            (true, _) => $"PASSED, but not for certain: every patch of plaque {check.Plaque.Name} reads within {tolerance}, some nearer "
                + "to it than the uncertainty.",
            (false, CheckVerdict.Fail) => $"FAILED: plaque {check.Plaque.Name} reads beyond {tolerance} of its certificate.",
            _ => $"FAILED, but not for certain: plaque {check.Plaque.Name} reads beyond {tolerance} or was not read whole; the "
                + "uncertainty could explain it.",
        };
    }

    private static void WritePatches(IAnsiConsole console, CalibrationReport report)
    {
        var table = Tables.New("patch", "channel", "certified", "read", "error", "u", "inside with", "");
        foreach (var patch in report.Channels.SelectMany(c => c.Patches))
        {
            table.Row(
                patch.Patch,
                patch.Channel.Word(),
                Numbers.Density(patch.Certified),
                Numbers.Density(patch.Mean),
                Numbers.Deviation(patch.Error),
                Numbers.Four(patch.StandardUncertainty),
                Numbers.Share(patch.ProbabilityInside),
                patch.IsInside ? "" : "beyond");
        }

        console.WriteTable(table);
    }

    private static void WriteAdjustments(IAnsiConsole console, CalibrationReport report)
    {
        foreach (var channel in report.Channels)
        {
            var slope = channel.Slope is { } s
                ? string.Create(CultureInfo.InvariantCulture, $", slope {s.Value:0.0000} ({s.Low:0.0000} … {s.High:0.0000})")
                : "";
            console.Line(string.Create(
                CultureInfo.InvariantCulture,
                $"  {channel.Channel.Word()}: zero {Numbers.Deviation(channel.Zero.Value)} ({channel.Zero.Low:+0.0000;-0.0000} … "
                + $"{channel.Zero.High:+0.0000;-0.0000}){slope}"));
        }
    }
}
