using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class CrossedVarianceTests
{
    /// <summary>The squares of all effects and of the reads within add up to those about the mean, whatever the numbers.</summary>
    [Fact]
    public void Squares_add_up() => Gen.Select(Gen.Int[2, 4], Gen.Int[2, 4], Gen.Int[2, 3], Gen.Int[2, 3], Gen.Int[0, 1_000_000])
        .Sample((a, b, c, n, seed) =>
        {
            var random = new Random(seed);
            var readings = Cells(a, b, c, n).Select(l => (l, 1000 + random.Normal())).ToList();
            var (mean, found) = (readings.Average(r => r.Item2), CrossedVariance.Of(readings));

            Assert.Equal(
                readings.Sum(r => Math.Pow(r.Item2 - mean, 2)),
                found.Effects.Sum(e => e.Row.SumOfSquares) + found.Residual.SumOfSquares, 1e-9 * readings.Count);
            Assert.Equal(readings.Count - 1, found.Effects.Sum(e => e.Row.DegreesOfFreedom) + found.Residual.DegreesOfFreedom);
            Assert.Equal(3, found.Additive().Effects.Length);
            Assert.Equal(
                found.Residual.SumOfSquares + found.Effects.Where(e => !e.IsMain).Sum(e => e.Row.SumOfSquares),
                found.Additive().Residual.SumOfSquares, 1e-9);
        }, iter: 30);

    /// <summary>One factor with reads within is the one-way analysis, component and F alike.</summary>
    [Fact]
    public void One_factor_is_the_one_way_analysis()
    {
        var random = new Random(5);
        var groups = Enumerable.Range(0, 5).Select(_ => Enumerable.Range(0, 4).Select(_ => random.Normal()).ToArray()).ToArray();
        var oneWay = OneWay.Of(groups);
        var found = CrossedVariance.Of([.. groups.SelectMany((g, i) => g.Select(v => (ImmutableArray.Create(i), v)))]);

        Assert.Equal(oneWay.Between.SumOfSquares, found.Effects.Single().Row.SumOfSquares, 1e-12);
        Assert.Equal(oneWay.F!.Value, found.Effects.Single().F!.Value, 1e-10);
        Assert.Equal(oneWay.P!.Value, found.Effects.Single().P!.Value, 1e-10);
        Assert.Equal(
            (oneWay.Between.MeanSquare!.Value - oneWay.Within.MeanSquare!.Value) / 4, found.Effects.Single().Component.Value, 1e-12);
    }

    /// <summary>With three factors the expected mean squares need several others; the estimates stay unbiased.</summary>
    [Fact]
    public void Components_of_three_factors_are_unbiased()
    {
        var random = new Random(77);
        double[] truth = [0, 1, 0.5, 0.3, 0.4, 0.2, 0.1, 0.05];
        var sums = new double[8];
        const int Draws = 300;
        for (var draw = 0; draw < Draws; draw++)
        {
            var effects = new Dictionary<(int, int), double>();
            var readings = Cells(4, 3, 3, 2).Select(l => (l, (random.Normal() * 0.3) + Enumerable.Range(1, 7).Sum(e =>
            {
                var key = (e, ((e & 1) == 0 ? 0 : l[0]) + (10 * ((e & 2) == 0 ? 0 : l[1])) + (100 * ((e & 4) == 0 ? 0 : l[2])));
                return effects.TryGetValue(key, out var own) ? own : effects[key] = random.Normal() * Math.Sqrt(truth[e]);
            }))).ToList();
            foreach (var effect in CrossedVariance.Of(readings).Effects)
            {
                sums[effect.Factors] += effect.Component.Value / Draws;
            }
        }

        foreach (var e in Enumerable.Range(1, 7))
        {
            Assert.InRange(sums[e], truth[e] - 0.2, truth[e] + 0.2);
        }

        Assert.InRange(sums[7], 0.03, 0.07);
        Assert.InRange(sums[3], 0.24, 0.36);
    }

    [Fact]
    public void Unequal_cells_are_refused() => Assert.Throws<ArgumentException>(
        () => CrossedVariance.Of([.. Cells(2, 2, 2, 2).Skip(1).Select(l => (l, 0.0))]));

    private static IEnumerable<ImmutableArray<int>> Cells(int a, int b, int c, int n) =>
        from i in Enumerable.Range(0, a)
        from j in Enumerable.Range(0, b)
        from k in Enumerable.Range(0, c)
        from _ in Enumerable.Range(0, n)
        select ImmutableArray.Create(i, j, k);
}
