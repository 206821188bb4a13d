using Acquire.Analysis.Gauge;

namespace Acquire.Rendering.Trust;

/// <summary>Repeatability tests for people: the verdict first, then what it rests on; and a list.</summary>
internal static class RepeatabilityText
{
    public static void Write(IAnsiConsole console, RepeatabilityReport report, RepeatabilityComparison? comparison)
    {
        console.Line(Verdict(report));
        console.WriteTable(Tables.Of(Channels(report)));
        console.WriteTable(Tables.Of(Patches(report)));
        if (!report.Limits.IsEmpty)
        {
            console.WriteTable(Tables.Of(Limits(report)));
        }

        foreach (var sentence in Comparison(comparison).Concat(report.Notes))
        {
            console.Line($"  {sentence}");
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

    private static string Sigma(RepeatabilityReport report) =>
        string.Join('/', report.Channels.Select(c => c.Specification.Sigma.ToString("0.000##", CultureInfo.InvariantCulture)).Distinct());

    /// <summary>What each channel's reads scatter; the page adds nothing but its form.</summary>
    public static Rows Channels(RepeatabilityReport report) => new(
        ["channel", "s", "95 % interval", "r = 2.8 s", "within", "placement", "step's share", "n", "ν", ""],
        report.Channels.Select(channel => (string[])
        [
            channel.Channel.Word(),
            Numbers.Four(channel.Pooled.S),
            $"{Numbers.Four(channel.Pooled.SLow)} … {Numbers.Four(channel.Pooled.SHigh)}",
            Numbers.Four(channel.Pooled.RepeatabilityLimit),
            channel.Pooled.SWithin is { } within ? Numbers.Four(within) : "",
            channel.Pooled.SPlacement is { } placement ? Numbers.Four(placement) : "",
            Numbers.Share(channel.Pooled.ResolutionShare),
            channel.Pooled.Reads.ToString(CultureInfo.InvariantCulture),
            channel.Pooled.DegreesOfFreedom.ToString(CultureInfo.InvariantCulture),
            channel.Specification.Passes ? "passed" : "FAILED",
        ]));

    public static Rows Patches(RepeatabilityReport report)
    {
        Channel[] channels = [.. report.Channels.Select(c => c.Channel)];
        return new Rows(
            ["patch", .. channels.Select(c => $"{c.Letter()} mean"), .. channels.Select(c => $"{c.Letter()} s"), "reads"],
            report.Channels.SelectMany(c => c.Patches).GroupBy(p => p.Patch, StringComparer.OrdinalIgnoreCase).Select(patch =>
            {
                var by = patch.ToDictionary(p => p.Channel);
                return (string[])
                [
                    patch.Key,
                    .. channels.Select(c => by.TryGetValue(c, out var p) ? Numbers.Density(p.Level) : ""),
                    .. channels.Select(c => by.TryGetValue(c, out var p) && p.Scatter is { } s ? Numbers.Four(s.S) : ""),
                    patch.Max(p => p.Reads).ToString(CultureInfo.InvariantCulture),
                ];
            }));
    }

    public static Rows Limits(RepeatabilityReport report) => new(
        ["parameter", "channel", "limit", "6 s of its width", "reads per patch"],
        report.Limits.Select(use => (string[])
        [
            use.Parameter.Name,
            use.Channel?.Word() ?? "",
            use.IsControl ? "control" : "action",
            Numbers.Share(use.Share),
            use.ReadsNeeded?.ToString(CultureInfo.InvariantCulture) ?? "no number is enough",
        ]));

    /// <summary>What has changed since the test before, a sentence each.</summary>
    public static IEnumerable<string> Comparison(RepeatabilityComparison? comparison) =>
        comparison is null ? [] : comparison.Channels.Select(change =>
            $"{change.Channel.Word()}: s was {Numbers.Four(change.Before)} in the test before, now {Numbers.Four(change.Now)}: "
            + (change.IsSignificant ? "more than chance explains (F test, 5 %)." : "no more than chance explains."))
        .Concat(comparison.Drifts.Where(d => d.IsSignificant).Select(drift =>
            $"{drift.Patch} {drift.Channel.Word()}: the level moved by {Numbers.Deviation(drift.Drift)} since the test before. "
            + "If it is the same piece of film, check zero and slope."));

    public static void WriteList(
        IAnsiConsole console, IReadOnlyCollection<(RepeatabilityTest Test, RepeatabilityReport Report)> tests, TimeProvider time, bool json)
    {
        Channel[] channels = [.. Domain.Densitometry.Channels.All.Where(c => tests.Any(t => t.Report[c] is not null))];
        console.WriteList(
            tests,
            json,
            t => RepeatabilityJson.Of(t.Test, t.Report),
            "No repeatability tests yet. Make one: acquire repeatability --instrument NAME --patches ld,hd",
            ["test", "by", "instrument", "patches", "reads", .. channels.Select(c => $"s {c.Letter()}"), "specification", ""],
            t =>
            [
                Numbers.Moment(t.Test.Provenance.At, time),
                t.Test.Provenance.By,
                t.Test.Provenance.Instrument?.Name ?? "entered",
                string.Join(' ', t.Test.Patches.Select(p => p.Patch.Key)),
                Numbers.Whole(t.Test.Patches.Max(p => p.Accepted.Count())),
                .. channels.Select(c => t.Report[c] is { } channel ? Numbers.Four(channel.Pooled.S) : ""),
                Numbers.Four(t.Test.Specification),
                t.Test.Passed ? "passed" : "FAILED",
            ]);
    }
}
