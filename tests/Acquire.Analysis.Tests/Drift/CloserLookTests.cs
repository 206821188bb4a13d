using Acquire.Analysis.Control;
using Acquire.Analysis.Tests.Statistics;
using MathNet.Numerics.LinearAlgebra;

namespace Acquire.Analysis.Tests.Drift;

public class CloserLookTests
{
    private static readonly double[] Values = [0.02, -0.01, 0.03, 0.01, 0.00, 0.05, 0.06, 0.04, 0.08, 0.07, 0.05, 0.09];
    private static readonly double[] Unknown = new double[StripMemory.All.Length];

    /// <summary>Whatever the memory, the quick sums are those of the whole covariance matrix.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(4)]
    [InlineData(int.MaxValue)]
    [Trait(
        "Source",
        "Generalised least squares, written out: x'V⁻¹x and x'V⁻¹y about the level, V of an AR(1) process seen through white noise")]
    public void Quick_sums_are_those_of_generalised_least_squares(int length)
    {
        foreach (var memory in StripMemory.All)
        {
            var n = Values.Length;
            var inverse = Matrix<double>.Build.Dense(
                n, n,
                (i, j) => ((i == j ? 1 - memory.Share : 0) + (memory.Share * Math.Pow(memory.Fading, Math.Abs(i - j)))) / memory.Innovation)
                .Inverse();
            var (y, one) = (Vector<double>.Build.Dense(Values), Vector<double>.Build.Dense(n, 1));
            var x = Vector<double>.Build.Dense(n, i => Whitened.Gone(i, 5, length));
            double Product(Vector<double> a, Vector<double> b) =>
                (a * inverse * b) - ((a * inverse * one) * (b * inverse * one) / (one * inverse * one));
            var white = new Whitened(Values, 0.01, memory);

            Assert.Equal(Product(y, y), white.Squares, 1e-9);
            Assert.Equal(0.5 * Math.Log(inverse.Determinant() / (one * inverse * one)), white.LogFactor, 1e-9);
            var (squares, product) = white.Course(5, length, 1);
            // The filter has settled by then but for a little, where there is any settling at all.
            var near = memory.Share < 1 ? 0.02 : 1e-9;
            Assert.Equal(1, squares / Product(x, x), near);
            Assert.Equal(1, product / Product(x, y), near);
        }
    }

    /// <summary>Looked at after every strip, the odds of a series in which nothing happens seldom grow large.</summary>
    [Fact]
    [Trait(
        "Source",
        "J. Ville, Étude critique de la notion de collectif (1939): a fair game reaches A times the stake with a chance of at most 1/A")]
    public void Odds_of_a_steady_series_reach_a_in_at_most_one_in_a()
    {
        var random = new Random(11);
        const int Series = 120;
        var reached = 0;
        for (var k = 0; k < Series; k++)
        {
            double[] values = [.. Enumerable.Range(0, 40).Select(_ => random.Normal())];
            reached += Enumerable.Range(4, 37).Any(n => CloserLook.Of([], values[..n], 0).LogOdds(Unknown) > Math.Log(5)) ? 1 : 0;
        }

        Assert.InRange(reached, 0, Series / 5);
    }

    /// <summary>In thousandths, as instruments show them: a scatter far below that drowns in the rounding of its aim.</summary>
    [Fact]
    public void Neither_the_unit_nor_the_aim_changes_the_odds() =>
        Gen.Select(
            Gen.Int[-1000, 1000].Select(v => v / 1000.0).Array[6, 20].Where(v => v.Distinct().Count() > 3),
            Gen.Double[0.1, 10],
            Gen.Double[-3, 3]).Sample(
            (values, unit, aim) =>
            {
                double[] moved = [.. values.Select(v => aim + (unit * v))];
                Assert.Equal(CloserLook.Of([], values, 0).LogOdds(Unknown), CloserLook.Of([], moved, 0).LogOdds(Unknown), 1e-5);
            },
            iter: 200);

    [Fact]
    public void Clear_step_is_placed_and_measured()
    {
        double[] values = [.. Histories.Scatter(12, 0.005, 5), .. Histories.Scatter(10, 0.005, 6).Select(v => v + 0.06)];
        var look = CloserLook.Of([], values, 0.003);
        var place = look.Place(Unknown);

        Assert.True(look.LogOdds(Unknown) > Math.Log(1000));
        Assert.Equal((12, 12, 12), (place.Began, place.Earliest, place.Latest));
        Assert.True(place.AtOnce > 0.8);
        Assert.InRange(place.Step, 0.05, 0.07);
        Assert.InRange(place.Before, -0.005, 0.005);
    }

    /// <summary>A random walk wanders without anything having happened; a memory that long explains it.</summary>
    [Fact]
    public void Known_memory_makes_the_odds_smaller()
    {
        double[] values = [.. Histories.Scatter(15, 0.01, 1), .. Histories.Scatter(15, 0.01, 2).Select(v => v + 0.03)];
        var look = CloserLook.Of([], values, 0);
        double[] Only(int m) => [.. Unknown.Select((_, i) => i == m ? 0 : -1e9)];

        Assert.True(look.LogOdds(Only(0)) > look.LogOdds(Only(StripMemory.All.Length - 1)) + 3);
    }

    [Fact]
    public void One_strip_far_from_the_others_is_improbable_and_one_among_them_is_not()
    {
        var steady = Histories.Scatter(20, 0.01, 9);

        Assert.True(CloserLook.Of([], [.. steady, 0.12], 0).Newest(Unknown).P < 1e-5);
        Assert.InRange(CloserLook.Of([], [.. steady, 0.005], 0).Newest(Unknown).P, 0.3, 1);
    }
}
