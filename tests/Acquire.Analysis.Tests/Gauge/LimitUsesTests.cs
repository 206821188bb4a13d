using Acquire.Analysis.Gauge;
using Acquire.Formats.ProcessSheets;

namespace Acquire.Analysis.Tests.Gauge;

public class LimitUsesTests
{
    // Two reads 0.02 apart: s = 0.0141421, in every colour.
    private static RepeatabilityReport Report(decimal apart = 0.02m, decimal step = 0.01m) => RepeatabilityStudy.Of(
        new RepeatabilityData(
        [
            GaugeRead.Of("ld", 1, ChannelDensities.Rgb(0.46m, 0.84m, 1.04m)),
            GaugeRead.Of("ld", 2, ChannelDensities.Rgb(0.46m + apart, 0.84m + apart, 1.04m + apart)),
        ], (double)step),
        null,
        ShippedSheets.Get("c41"));

    private static LimitUse Use(RepeatabilityReport report, string parameter, Channel? channel, bool control = false) =>
        report.Limits.Single(u => u.Parameter.Key == parameter && u.Channel == channel && u.IsControl == control);

    [Theory]
    [InlineData("ld", false, 0.0141421, 0.12, 6 * 0.0141421 / 0.12, 2)] // (6 · 0.0141421 / 0.06)² = 2.0
    [InlineData("ld", true, 0.0141421, 0.16, 6 * 0.0141421 / 0.16, 2)] // 1.125
    [InlineData("dmin", false, 0.0141421, 0.03, 6 * 0.0141421 / 0.03, 8)] // one side; 8.0
    [InlineData("contrast", false, 0.02, 0.14, 6 * 0.02 / 0.14, 3)] // two patches; 2.94
    [Trait("Source", "By hand from the shipped C-41 limits: 6 s over the width; n = (2 · 3 · s / side)²")]
    public void Use_of_a_limit_is_reckoned_by_hand(string parameter, bool control, double s, double width, double share, int reads)
    {
        var use = Use(Report(), parameter, Channel.Green, control);

        Assert.Equal(s, use.S, 0.0000005);
        Assert.Equal(width, use.Width, 1e-12);
        Assert.Equal(share, use.Share, 0.0005);
        Assert.Equal(reads, use.ReadsNeeded);
    }

    [Fact]
    [Trait("Source", "By hand: a spread of differences is the difference of two of them, s = 2 · 0.0141421")]
    public void Use_of_the_spread_limit_counts_four_patches()
    {
        var use = Use(Report(), "spread", null, true);

        Assert.Equal(2 * 0.0141421, use.S, 0.000001);
        Assert.Equal(0.09, use.Width, 1e-12);
        Assert.Equal(4, use.ReadsNeeded); // 36 · 0.0008 / 0.0081 = 3.56
    }

    [Fact]
    public void Use_says_how_it_was_reckoned()
    {
        Assert.Contains("upper minus lower", Use(Report(), "ld", Channel.Red).Explanation, StringComparison.Ordinal);
        Assert.Contains("one side", Use(Report(), "dmin", Channel.Red).Explanation, StringComparison.Ordinal);
        Assert.Contains("√2 · s", Use(Report(), "contrast", Channel.Red).Explanation, StringComparison.Ordinal);
    }

    [Fact]
    [Trait("Source", "By hand: a step of 0.05 leaves u = 0.0144, so 2 u = 0.029 > 0.06/3 whatever the number of reads")]
    public void Coarse_display_lets_no_number_of_reads_suffice()
    {
        var use = Use(Report(0, 0.05m), "ld", Channel.Red);

        Assert.Null(use.ReadsNeeded);
        Assert.Contains("no sensible number", use.Explanation, StringComparison.Ordinal);
        Assert.Equal(6 * 0.05 / Math.Sqrt(12) / 0.12, use.Share, 1e-12);
    }

    [Fact]
    [Trait("Source", "By hand: equal reads at a step of 0.01 leave 2 · 0.0029 < 0.06/3")]
    public void Equal_reads_on_a_fine_display_need_no_repeats() => Assert.Equal(1, Use(Report(0), "ld", Channel.Red).ReadsNeeded);

    [Fact]
    public void Limits_are_listed_for_channels_that_were_read_only()
    {
        var data = PublishedReads.Reds("ld", 0.46m, 0.47m);

        Assert.All(RepeatabilityStudy.Of(data, null, ShippedSheets.Get("c41")).Limits, u => Assert.Equal(Channel.Red, u.Channel));
        Assert.Empty(RepeatabilityStudy.Of(data).Limits);
    }

    [Fact]
    public void Limit_that_ends_at_the_aim_has_no_width_on_that_side()
    {
        var sheet = SheetWith(new Limit(0, 0.05, "by hand"));

        Assert.Equal(0.05, RepeatabilityStudy.Of(PublishedReads.Reds("ld", 0.46m, 0.47m), null, sheet).Limits.Single().Width);
        Assert.Empty(RepeatabilityStudy.Of(PublishedReads.Reds("ld", 0.46m, 0.47m), null, SheetWith(new Limit(0, 0, "by hand"))).Limits);
    }

    private static ProcessSheet SheetWith(Limit limit) => new(
        "own",
        "Own",
        DensityStatus.M,
        ShippedSheets.Get("c41").Layout,
        [new PatchParameter("ld", "LD", "speed", "ld", [Channel.Red], new ParameterLimits(null, limit))]);
}
