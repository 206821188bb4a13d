using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Control;

/// <summary>
/// The rules of the Western Electric handbook (1956) and of L. S. Nelson (1984); strict at the line, the last point flagged.
/// </summary>
public class RunRuleTests
{
    [Theory]
    [InlineData(RunRule.BeyondThreeSigma, new[] { 0, 3.0, -3.01 }, 2)]
    [InlineData(RunRule.TwoOfThreeBeyondTwo, new[] { 2.1, 0, 2.2 }, 2)]
    [InlineData(RunRule.TwoOfThreeBeyondTwo, new[] { 2.1, 2.1, 0 }, 1)]
    [InlineData(RunRule.FourOfFiveBeyondOne, new[] { -1.1, -1.2, 0.5, -1.3, -1.4 }, 4)]
    [InlineData(RunRule.EightOnOneSide, new[] { 0.1, 0.2, 0.1, 0.2, 0.1, 0.2, 0.1, 0.2 }, 7)]
    [InlineData(RunRule.NineOnOneSide, new[] { 0.1, 0.2, 0.1, 0.2, 0.1, 0.2, 0.1, 0.2, 0.1 }, 8)]
    [InlineData(RunRule.SixSteady, new[] { -0.5, -0.4, -0.1, 0.2, 0.3, 0.6 }, 5)]
    [InlineData(RunRule.FourteenAlternating, new[] { 0, 1.0, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1 }, 13)]
    [InlineData(RunRule.FifteenWithinOne, new[] { 0.1, 0.2, -0.1, 0.2, 0.1, 0.2, 0.1, -0.2, 0.1, 0.2, 0.1, 0.9, 0.1, 0.2, 0.9 }, 14)]
    [InlineData(RunRule.EightOutsideOne, new[] { 1.1, -1.2, 1.3, -1.1, 1.2, 1.3, -1.4, 1.1 }, 7)]
    public void Pattern_is_flagged_at_its_last_point_only(RunRule rule, double[] z, int index) =>
        Assert.Equal([index], RunSignal.Find(z, [rule]).Select(s => s.Index));

    [Fact]
    public void Pattern_begins_with_the_first_point_at_the_earliest() => Assert.Equal(
        [(1, 0), (3, 0)],
        RunSignal.Find([2.1, 2.1], [RunRule.TwoOfThreeBeyondTwo])
            .Concat(RunSignal.Find([1.1, 1.2, 1.3, 1.4], [RunRule.FourOfFiveBeyondOne])).Select(s => (s.Index, s.First)));

    [Fact]
    public void Points_infinitely_far_out_are_on_their_side_and_no_fault() => Assert.Contains(
        RunSignal.Find([double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity], RunRuleSets.Nelson),
        s => s is { Rule: RunRule.BeyondThreeSigma, Side: Side.Low });

    [Theory]
    [InlineData(RunRule.BeyondThreeSigma, new[] { 3.0, -3.0 })]
    [InlineData(RunRule.TwoOfThreeBeyondTwo, new[] { 2.1, -2.1, 0, 2.0, 2.1 })]
    [InlineData(RunRule.EightOnOneSide, new[] { 0.1, 0.2, 0.1, 0.2, 0, 0.2, 0.1, 0.2, 0.1 })]
    [InlineData(RunRule.SixSteady, new[] { 0.1, 0.2, 0.3, 0.4, 0.5, 0.5, 0.6 })]
    [InlineData(RunRule.FourteenAlternating, new[] { 0, 1.0, 0, 1, 0, 1, 1, 0, 1, 0, 1, 0, 1, 0, 1 })]
    [InlineData(RunRule.FifteenWithinOne, new[] { 0.1, 0.2, -0.1, 0.2, 0.1, 0.2, 0.1, -1.0, 0.1, 0.2, 0.1, 0.9, 0.1, 0.2, 0.9 })]
    public void Pattern_that_is_broken_or_on_the_line_is_not_flagged(RunRule rule, double[] z) => Assert.Empty(RunSignal.Find(z, [rule]));

    /// <summary>How long a chart of means stays silent after a shift, by drawn numbers; the standard error is about 1.6 %.</summary>
    [Theory]
    [Trait(
        "Source", "Run lengths of a means chart with 3 sigma limits, vignette of R package qcc 3.0 (piston rings, n = 5; n = 1 beside it)")]
    [InlineData(0.1, 5, 296)]
    [InlineData(0.2, 5, 178)]
    [InlineData(0.1, 1, 353)]
    [InlineData(0.2, 1, 308)]
    public void Run_length_after_a_shift_is_the_published_one(double shift, int n, double published)
    {
        var random = new Random(12);
        long points = 0;
        const int Runs = 4000;
        for (var run = 0; run < Runs; run++)
        {
            var state = default(RunRuleState);
            do
            {
                state = state.Next(random.Normal() + (shift * Math.Sqrt(n)));
                points++;
            }
            while (!state.Breaks(RunRule.BeyondThreeSigma));
        }

        Assert.Equal(1, points / (double)Runs / published, 0.06);
    }

    [Fact]
    public void Mirrored_points_break_the_same_rules_on_the_other_side() => Gen.Double[-4, 4].Array[0, 60].Sample(z =>
    {
        var (plain, mirrored) = (RunSignal.Find(z, RunRuleSets.Nelson), RunSignal.Find(z.Select(v => -v), RunRuleSets.Nelson));
        Assert.Equal(plain.Select(s => (s.Rule, s.Index, (int)s.Side)), mirrored.Select(s => (s.Rule, s.Index, -(int)s.Side)));
    });

    [Fact]
    public void A_rule_looks_no_farther_back_than_its_span() => Gen.Double[-4, 4].Array[20, 40].Sample(z =>
    {
        var whole = RunSignal.Find(z, RunRuleSets.Nelson).Where(s => s.Index == z.Length - 1).Select(s => s.Rule);
        var tail = RunSignal.Find(z[^15..], RunRuleSets.Nelson).Where(s => s.Index == 14).Select(s => s.Rule);
        Assert.Equal(whole, tail);
    });
}
