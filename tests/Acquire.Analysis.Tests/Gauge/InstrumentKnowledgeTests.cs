using Acquire.Analysis.Gauge;
using Acquire.Analysis.Tests.Statistics;

namespace Acquire.Analysis.Tests.Gauge;

public class InstrumentKnowledgeTests
{
    private static PatchRepeats At(double? density, double s, double freedom, Channel channel = Channel.Red) =>
        new(channel, density, s, freedom);

    [Fact]
    [Trait("Source", "By hand: 0.010 √(1 + 0.45² D²), 5 degrees of freedom")]
    public void Nothing_known_is_the_assumption_and_not_a_scatter_of_none()
    {
        var known = InstrumentKnowledge.Of("bench", []);

        Assert.Equal(new ReadScatter(0.010, 5, true), known.At(Channel.Blue, 0));
        Assert.Equal(0.010 * Math.Sqrt(1 + (0.2025 * 6.25)), known.At(Channel.Blue, 2.5).StandardDeviation, 1e-12);
    }

    [Theory]
    [InlineData(1, 4.5)]
    [InlineData(4, 3)]
    [InlineData(10, 0)]
    [InlineData(27, 0)]
    [Trait("Source", "By hand: pooling of NIST/SEMATECH e-Handbook 2.4.4.1 with the assumption as 5 (1 − ν/10) degrees of freedom")]
    public void Assumption_gives_way_to_own_repeats(int own, double assumed)
    {
        // Repeats that do not say where they were made leave no growth to be reckoned.
        var scatter = InstrumentKnowledge.Of("bench", [At(null, 0.004, own)]).At(Channel.Red, 0);

        Assert.Equal(own + assumed, scatter.DegreesOfFreedom, 1e-12);
        Assert.Equal(Math.Sqrt(((own * 0.000016) + (assumed * 0.0001)) / (own + assumed)), scatter.StandardDeviation, 1e-12);
        Assert.Equal(assumed > 0, scatter.IsAssumed);
    }

    [Fact]
    public void Repeats_of_one_channel_say_nothing_of_another() =>
        Assert.True(InstrumentKnowledge.Of("bench", [At(0.5, 0.004, 30)]).At(Channel.Green, 0.5).IsAssumed);

    [Fact]
    public void Scatter_is_not_taken_for_less_below_the_thinnest_patch_that_was_repeated()
    {
        var known = InstrumentKnowledge.Of("bench", [At(0.8, 0.006, 30)]);

        Assert.Equal(0.006, known.At(Channel.Red, 0.8).StandardDeviation, 1e-12);
        Assert.Equal(0.006, known.At(Channel.Red, 0.2).StandardDeviation, 1e-12);
        Assert.True(known.At(Channel.Red, 2.5).StandardDeviation > 0.006);
    }

    /// <summary>Reads that scatter as s(D)² = 0.004² (1 + 1.2² D²): a test of five patches in three channels finds it again.</summary>
    [Fact]
    [Trait("Source", "Simulation, seeded")]
    public void Growth_with_density_is_found_from_repeats_at_several_densities()
    {
        static double True(double d) => 0.004 * Math.Sqrt(1 + (1.44 * d * d));
        var random = new Random(3);
        double[] densities = [0.25, 0.8, 1.5, 2.2, 2.8];
        var (thin, dense) = (0.0, 0.0);
        for (var i = 0; i < 40; i++)
        {
            var known = InstrumentKnowledge.Of("bench", Channels.Colours.SelectMany(c => densities.Select(d =>
                At(d, True(d) * Math.Sqrt(Enumerable.Range(0, 9).Sum(_ => Math.Pow(RandomNumbers.Normal(random), 2)) / 9), 9, c))));
            thin += known.At(Channel.Red, 0.25).StandardDeviation / True(0.25) / 40;
            dense += known.At(Channel.Red, 2.8).StandardDeviation / True(2.8) / 40;
        }

        Assert.InRange(thin, 0.9, 1.2);
        Assert.InRange(dense, 0.9, 1.1);
    }

    [Fact]
    public void Patch_whose_reads_disagree_counts_by_its_own_scatter_and_spoils_no_other()
    {
        PatchMean wild = new("ld", Channel.Red, 0.50, 3, 0.08, 0.01), tame = new("ld", Channel.Red, 0.50, 3, 0.009, 0.01);
        var known = InstrumentKnowledge.Of("bench", [At(null, 0.005, 40), .. PatchRepeats.Of([wild])]).At(Channel.Red, 0.5);

        Assert.Equal(0.005, known.StandardDeviation, 1e-12);
        Assert.Equal(new ReadScatter(0.08, 2, false), known.For(wild));
        Assert.Equal(known, known.For(tame));
    }

    [Fact]
    public void Order_and_grouping_of_repeats_do_not_matter() => Gen.Select(
        Gen.Double[0.1, 3], Gen.Double[0.001, 0.02], Gen.Int[1, 20]).Array[1, 12].Sample(all =>
    {
        var repeats = all.Select(r => At(r.Item1, r.Item2, r.Item3)).ToList();
        var (one, other) = (InstrumentKnowledge.Of("a", repeats), InstrumentKnowledge.Of("a", []).With(Enumerable.Reverse(repeats)));

        Assert.Equal(one.At(Channel.Red, 1.3).StandardDeviation, other.At(Channel.Red, 1.3).StandardDeviation, 1e-12);
        Assert.InRange(one.At(Channel.Red, 1.3).DegreesOfFreedom, 1, 300);
    });
}
