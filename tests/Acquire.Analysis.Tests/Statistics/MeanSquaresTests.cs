using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Statistics;

public class MeanSquaresTests
{
    [Fact]
    [Trait("Source", "NIST/SEMATECH e-Handbook 1.3.5.8, GEAR.DAT: s 0.006278908, 95 % interval 0.00551 … 0.00729")]
    public void One_mean_square_has_the_chi_square_interval()
    {
        var (low, high) = new MeanSquares([(1, new SquaresRow(99 * 0.006278908 * 0.006278908, 99), 0)]).Interval();

        Assert.Equal((0.00551, 0.00729), (Math.Round(Math.Sqrt(low), 5), Math.Round(Math.Sqrt(high), 5)));
    }

    /// <summary>A difference whose true value is 0 is missed below as often as the F test misses.</summary>
    [Fact]
    public void Difference_reaches_zero_where_the_F_test_just_fails()
    {
        var critical = Quantiles.Fisher(0.975, 9, 18);
        var (low, _) = new MeanSquares([(1, new SquaresRow(9 * critical, 9), 1), (-1, new SquaresRow(18, 18), 0)]).Interval();

        Assert.Equal(0, low, 1e-9);
    }

    /// <summary>Held against draws: a gauge of ten patches, three persons, three reads, each component as large as any other.</summary>
    [Theory]
    [InlineData(1, 0)]
    [InlineData(2, 1)]
    [InlineData(3, 2)]
    public void Interval_holds_its_word(int seed, int kind)
    {
        var (random, held) = (new Random(seed), 0);
        const int Draws = 400;
        for (var draw = 0; draw < Draws; draw++)
        {
            // E(MS): patch 1 + 3 + 9, person 1 + 3 + 30, both 1 + 3, reads 1.
            var (patch, person, both, reads) = (Row(13, 9), Row(34, 2), Row(4, 18), Row(1, 60));
            var (sum, truth) = kind switch
            {
                0 => (new MeanSquares([(1 / 9.0, patch, 1), (-1 / 9.0, both, 3)]), 1.0),
                1 => (new MeanSquares([(1 / 30.0, person, 2), (-1 / 30.0, both, 3)]), 1.0),
                _ => (new MeanSquares([(1 / 30.0, person, 2), (9 / 30.0, both, 3), (2 / 3.0, reads, 0)]), 3.0),
            };
            var (low, high) = sum.Interval();
            held += low <= truth && truth <= high ? 1 : 0;
        }

        // Four standard errors of 400 draws about 95 %; the method is known to hold a little more than it says.
        Assert.InRange(held, Draws * 0.91, Draws * 0.99);

        SquaresRow Row(double expected, int freedom) =>
            new(expected * Enumerable.Range(0, freedom).Sum(_ => Math.Pow(random.Normal(), 2)), freedom);
    }
}
