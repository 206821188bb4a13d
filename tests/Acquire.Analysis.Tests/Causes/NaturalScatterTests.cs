using Acquire.Analysis.Causes;

namespace Acquire.Analysis.Tests.Causes;

public class NaturalScatterTests
{
    [Fact]
    public void Line_without_history_has_the_built_in_scatter()
    {
        Assert.Equal(new NaturalScatter(), NaturalScatter.LearntFrom([]));
        Assert.Equal(new NaturalScatter(), NaturalScatter.LearntFrom([FaultyStrips.With(null, 0, new Random(1))]));
    }

    [Theory]
    [InlineData(0.004, 0.004)]
    [InlineData(0.012, 0.004)]
    [InlineData(0.030, 0.010)]
    public void Scatter_of_many_strips_is_learnt(double run, double own)
    {
        var learnt = NaturalScatter.LearntFrom(Strips(120, new NaturalScatter(run, own)));

        // A quarter either way: the built-in numbers still count for a few strips.
        Assert.InRange(learnt.Run, 0.75 * run, 1.35 * run);
        Assert.InRange(learnt.Own, 0.75 * own, 1.35 * own);
    }

    [Fact]
    public void Handful_of_strips_moves_it_only_a_little() =>
        Assert.InRange(NaturalScatter.LearntFrom(Strips(3, new NaturalScatter(0.040, 0.004))).Run, 0.010, 0.030);

    [Fact]
    public void Step_of_the_process_and_a_stand_off_aim_are_no_scatter()
    {
        var random = new Random(3);
        var fault = KnownFault.Of("developer-cold");
        var strips = Enumerable.Range(0, 40).Select(i => FaultyStrips.With(i < 20 ? null : fault, i < 20 ? 0 : 2, random));

        Assert.InRange(NaturalScatter.LearntFrom(strips).Run, 0.009, 0.018);
    }

    [Fact]
    public void Strip_of_a_line_that_is_known_to_scatter_much_is_quiet()
    {
        var wide = new NaturalScatter(0.050, 0.004);
        var learnt = CauseContext.None with { Scatter = NaturalScatter.LearntFrom(Strips(30, wide)) };
        var random = new Random(100);
        var strips = Enumerable.Range(0, 40).Select(_ => FaultyStrips.With(null, 0, random, scatter: wide)).ToList();
        int Quiet(CauseContext context) => strips.Count(s => CauseStudy.Of(s, context).NothingHappened);

        Assert.True(Quiet(learnt) >= 36, $"{Quiet(learnt)} of 40");
    }

    private static IEnumerable<StripRecord> Strips(int count, NaturalScatter scatter)
    {
        var random = new Random(2);
        return [.. Enumerable.Range(0, count).Select(_ => FaultyStrips.With(null, 0, random, scatter: scatter))];
    }
}
