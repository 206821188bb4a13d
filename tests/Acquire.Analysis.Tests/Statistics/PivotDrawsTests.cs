using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class PivotDrawsTests
{
    [Fact]
    [Trait("Source", "S. R. Searle, Linear Models, 1971, ch. 9: exact interval of the ratio of two variance components in a one-way "
        + "layout, ((F/F(0.975) − 1)/n, (F/F(0.025) − 1)/n); formula from memory")]
    public void Ratio_of_two_components_of_a_one_way_layout_has_the_exact_interval()
    {
        var random = new Random(3);
        var variance = CrossedVariance.Of(
        [
            .. from patch in Enumerable.Range(0, 8)
               let place = random.Normal()
               from read in Enumerable.Range(0, 3)
               select (ImmutableArray.Create(patch), place + (0.5 * random.Normal())),
        ]);
        var (effect, reads) = (variance.Effects.Single(), variance.Residual);
        var f = effect.Row.MeanSquare!.Value / reads.MeanSquare!.Value;
        var draws = PivotDraws.Of(variance);
        var (above, below) = (draws.Of(effect.Component), draws.Of(new MeanSquares([(1, reads, 0)])));
        var (low, high) = PivotDraws.Interval(i => above[i] / below[i]);

        Assert.Equal(((f / Quantiles.Fisher(0.975, 7, 16)) - 1) / 3, low, 0.03 * Math.Abs(low));
        Assert.Equal(((f / Quantiles.Fisher(0.025, 7, 16)) - 1) / 3, high, 0.05 * high);
    }

    /// <summary>Ten patches, four persons, two reads, true share of the gauge known; of two hundred by hand 190 held.</summary>
    [Fact]
    [Trait("speed", "slow")]
    public void Interval_of_a_share_holds_the_true_share()
    {
        const int Studies = 30;
        const double Patch = 1, Person = 0.3, Both = 0.2, Read = 0.3;
        var gauge = (Person * Person) + (Both * Both) + (Read * Read);
        var truth = gauge / (gauge + (Patch * Patch));
        var random = new Random(11);
        var held = Enumerable.Range(0, Studies).Count(_ =>
        {
            var persons = Enumerable.Range(0, 4).Select(_ => Person * random.Normal()).ToArray();
            var variance = CrossedVariance.Of(
            [
                .. from patch in Enumerable.Range(0, 10)
                   let place = Patch * random.Normal()
                   from person in Enumerable.Range(0, 4)
                   let cell = place + persons[person] + (Both * random.Normal())
                   from read in Enumerable.Range(0, 2)
                   select (ImmutableArray.Create(patch, person), cell + (Read * random.Normal())),
            ]);
            var draws = PivotDraws.Of(variance);
            var parts = variance.Effects.Where(e => e.Factors != 1).Select(e => draws.Of(e.Component)).ToList();
            var (reads, patches) = (
                draws.Of(new MeanSquares([(1, variance.Residual, 0)])), draws.Of(variance.Effects.Single(e => e.Factors == 1).Component));
            var (low, high) = PivotDraws.Interval(i =>
            {
                var g = reads[i] + parts.Sum(p => Math.Max(0, p[i]));
                return g / (g + Math.Max(0, patches[i]));
            });
            return low <= truth && truth <= high;
        });

        // Binomial: with 95 % each, fewer than 25 of 30 come out once in three hundred times.
        Assert.InRange(held, 25, Studies);
    }
}
