using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Tests.Gauge;

public class ZeroKnowledgeTests
{
    [Fact]
    [Trait("Source", "GUM (JCGM 100:2008) 4.3.7: a rectangular distribution of half-width a has u = a/√3")]
    public void Nothing_known_of_the_zero_is_a_zero_set_somewhere_within_a_width()
    {
        var zero = ZeroKnowledge.Of([]);

        Assert.Equal(0.0125 / Math.Sqrt(3), zero.StandardUncertainty, 1e-12);
        Assert.True(zero.IsAssumed);
    }

    [Fact]
    [Trait("Source", "By hand: 12 moves of variance 0.004² leave the assumption no weight")]
    public void Zero_that_was_seen_often_is_no_assumption()
    {
        var zero = ZeroKnowledge.Of([.. Enumerable.Repeat(new ZeroMove(0.000016, 1), 12)]);

        Assert.Equal(0.004, zero.StandardUncertainty, 1e-12);
        Assert.Equal(12, zero.DegreesOfFreedom, 1e-12);
        Assert.False(zero.IsAssumed);
    }

    [Fact]
    public void Zero_that_reading_explains_is_none_and_never_below() =>
        Assert.Equal(0, ZeroKnowledge.Of([.. Enumerable.Repeat(new ZeroMove(-0.00001, 1), 12)]).StandardUncertainty);

    [Fact]
    [Trait("Source", "By hand: half of the square of a mean difference of 0.02, less what two reads of two patches make of it")]
    public void Move_of_the_zero_is_what_a_strip_read_twice_differs_by_beyond_reading()
    {
        ImmutableArray<PatchMean> Means(double off) =>
            [new("dmin", Channel.Red, 0.25 + off, 1, null, 0.001), new("ld", Channel.Red, 0.5 + off, 1, null, 0.001)];
        var known = InstrumentKnowledge.Of("bench", [new PatchRepeats(Channel.Red, null, 0.004, 100)]);

        var move = ZeroMove.Between(Means(0), Means(0.02), known)!.Value;

        Assert.Equal((0.0004 - (4 * 0.000016 / 4)) / 2, move.Variance, 1e-12);
        Assert.Null(ZeroMove.Between(Means(0), [], known));
    }
}
