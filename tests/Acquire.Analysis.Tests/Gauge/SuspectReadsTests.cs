using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class SuspectReadsTests
{
    [Fact]
    public void Read_far_from_the_others_is_named_and_still_counts()
    {
        var report = RepeatabilityStudy.Of(PublishedReads.Reds("hd", 1.26m, 1.27m, 1.26m, 1.25m, 1.26m, 1.27m, 1.26m, 1.36m));

        var suspect = Assert.Single(report.Suspects);

        Assert.Equal(("hd", Channel.Red, 8), (suspect.Patch, suspect.Channel, suspect.Number));
        Assert.Equal((1.36m, true), (suspect.Value, suspect.IsOutlier));
        Assert.Equal(8, report[Channel.Red]!.Pooled.Reads);
        Assert.Contains(report.Notes, n => n.StartsWith("red: read 8 of patch hd (1.36) stands apart", StringComparison.Ordinal));
    }

    [Fact]
    [Trait(
        "Source", "By hand: nine equal reads and one a step away have G = 2.846, above the critical 2.290, yet only rounding parts them")]
    public void Read_one_display_step_away_is_not_named() =>
        Assert.Empty(RepeatabilityStudy.Of(PublishedReads.Reds("ld", [.. Enumerable.Repeat(0.26m, 9), 0.27m])).Suspects);

    [Fact]
    public void Read_two_steps_from_equal_ones_is_named() =>
        Assert.Single(RepeatabilityStudy.Of(PublishedReads.Reds("ld", [.. Enumerable.Repeat(0.26m, 9), 0.28m])).Suspects);

    [Fact]
    [Trait("Source", "ASTM E691 glucose study: the planted 148.30 for 138.30 of laboratory 4 in material C; among its three results "
        + "alone G = 1.1318 < 1.1543")]
    public void Planted_error_among_three_reads_is_beyond_the_test()
    {
        var reads = PublishedReads.Glucose.Where(g => g.Lab == 4).Select(g => g.C);

        Assert.Empty(RepeatabilityStudy.Of(PublishedReads.Reds("lab4", reads)).Suspects);
        var all = RepeatabilityStudy.Of(PublishedReads.Reds("all", PublishedReads.Glucose.Select(g => g.C)));
        Assert.Equal(148.30m, Assert.Single(all.Suspects).Value);
    }
}
