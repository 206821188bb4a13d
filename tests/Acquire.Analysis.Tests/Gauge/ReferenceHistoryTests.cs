using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class ReferenceHistoryTests
{
    // Three reads of LD a step apart, moved by so much.
    private static (string, RepeatabilityData) Occasion(
        string label, decimal move, params string[] patches) => (label, new RepeatabilityData(
    [
        .. patches.SelectMany(p => new[] { -0.01m, 0, 0.01m }.Select((d, i) => PublishedReads.Red(p, i + 1, 0.46m + d + move))),
    ]));

    private static ImmutableArray<(string, RepeatabilityData)> Steady { get; } =
    [
        .. new[] { 0, 0.002m, -0.003m, 0.001m, -0.001m, 0.002m }.Select((move, i) => Occasion($"week {i + 1}", move, "ld", "hd")),
    ];

    [Fact]
    public void Reference_that_moved_after_its_baseline_is_flagged_in_the_patch_that_moved()
    {
        var (_, moved) = Occasion("week 7", 0.03m, "ld");
        var (_, steady) = Occasion("week 7", 0, "hd");

        var charts = ReferenceHistory.Of(Steady.Add(("week 7", new RepeatabilityData([.. moved.Reads, .. steady.Reads]))), 6);

        Assert.Equal([("ld", Channel.Red), ("hd", Channel.Red)], charts.Select(c => (c.Patch, c.Channel)));
        Assert.Equal("week 7", Assert.Single(charts[0].Chart.Points, p => p.MeanOutside || p.ScatterOutside).Occasion.Label);
        Assert.DoesNotContain(charts[1].Chart.Points, p => p.MeanOutside || p.ScatterOutside);
        Assert.Equal((6, 12), (charts[0].Chart.Baseline, charts[0].Chart.ShortTerm!.Value.DegreesOfFreedom));
    }

    [Fact]
    public void Patch_missing_on_some_occasions_is_charted_from_those_it_has()
    {
        var charts = ReferenceHistory.Of([.. Steady[..2], Occasion("week 3", 0, "ld"), Occasion("week 4", 0, "yellow")]);

        Assert.Equal([("ld", 3), ("hd", 2)], charts.Select(c => (c.Patch, c.Chart.Points.Length)));
    }

    [Fact]
    public void Reference_read_once_has_no_limits_yet()
    {
        var fault = Assert.Throws<GaugeException>(() => ReferenceHistory.Of(Steady[..1]));

        Assert.Contains("read the reference strip again", fault.Message, StringComparison.Ordinal);
    }
}
