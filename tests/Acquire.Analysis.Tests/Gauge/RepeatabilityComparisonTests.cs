using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class RepeatabilityComparisonTests
{
    private static readonly decimal[] Steady = [0.46m, 0.47m, 0.45m, 0.46m, 0.48m, 0.46m, 0.45m, 0.47m];

    private static RepeatabilityReport Study(params IEnumerable<decimal> values) =>
        RepeatabilityStudy.Of(PublishedReads.Reds("ld", values));

    [Fact]
    public void Test_compared_with_itself_shows_no_change()
    {
        var comparison = RepeatabilityComparison.Of(Study(Steady), Study(Steady));

        Assert.Equal((1.0, false), (comparison.Channels.Single().Test.F, comparison.Channels.Single().IsSignificant));
        var drift = comparison.Drifts.Single();
        Assert.Equal((0.0, 1.0, 14), (drift.Drift, drift.P, drift.DegreesOfFreedom));
    }

    [Fact]
    [Trait("Source", "By hand: the same scatter s twice, 8 reads each, u = s/2, t = 0.05/u")]
    public void Level_that_moved_by_more_than_chance_is_a_drift()
    {
        var drift = RepeatabilityComparison.Of(Study(Steady), Study(Steady.Select(v => v + 0.05m))).Drifts.Single();

        Assert.Equal(0.05, drift.Drift, 1e-12);
        Assert.Equal(Study(Steady)[Channel.Red]!.Pooled.S / 2, drift.StandardUncertainty, 1e-12);
        Assert.Equal(0.05 / drift.StandardUncertainty, drift.T, 1e-9);
        Assert.True(drift.IsSignificant);
    }

    [Fact]
    [Trait("Source", "By hand: five times the scatter, F = 25 at 7 and 7 degrees of freedom, critical 4.99 (value from memory)")]
    public void Scatter_that_grew_by_more_than_chance_is_told()
    {
        var change = RepeatabilityComparison.Of(Study(Steady), Study(Steady.Select(v => 0.46m + ((v - 0.46m) * 5)))).Channels.Single();

        Assert.Equal(25, change.Test.F, 1e-9);
        Assert.True(change.IsSignificant);
        Assert.Equal(5 * change.Before, change.Now, 1e-12);
    }

    [Fact]
    public void Equal_reads_moved_by_one_step_are_within_rounding()
    {
        var comparison = RepeatabilityComparison.Of(Study(0.46m, 0.46m, 0.46m), Study(0.47m, 0.47m, 0.47m));

        Assert.True(double.IsFinite(comparison.Drifts.Single().T));
        Assert.Equal(0.01 * Math.Sqrt(2.0 / 12), comparison.Drifts.Single().StandardUncertainty, 1e-12);
        Assert.False(comparison.Channels.Single().IsSignificant);
    }

    [Fact]
    public void Patches_and_channels_of_one_test_only_are_left_out()
    {
        var other = RepeatabilityStudy.Of(PublishedReads.Reds("hd", 1.26m, 1.27m));

        Assert.Empty(RepeatabilityComparison.Of(Study(Steady), other).Drifts);
        Assert.Single(RepeatabilityComparison.Of(Study(Steady), other).Channels);
    }

    [Fact]
    public void Comparison_the_other_way_round_has_the_drift_reversed_and_the_same_chances() =>
        Gen.Select(Gen.Int[0, 30].Array[2, 12], Gen.Int[0, 30].Array[2, 12]).Sample((a, b) =>
        {
            var (one, other) = (Study(a.Select(v => v / 100m + 0.01m)), Study(b.Select(v => v / 100m + 0.01m)));
            var (there, back) = (RepeatabilityComparison.Of(one, other), RepeatabilityComparison.Of(other, one));
            Assert.Equal(there.Drifts.Single().Drift, -back.Drifts.Single().Drift, 1e-12);
            Assert.Equal(there.Drifts.Single().P, back.Drifts.Single().P, 1e-9);
            Assert.Equal(there.Channels.Single().Test.P, back.Channels.Single().Test.P, 1e-9);
        });
}
