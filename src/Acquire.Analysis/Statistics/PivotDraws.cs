using MathNet.Numerics.Distributions;

namespace Acquire.Analysis.Statistics;

/// <summary>Generalised intervals of what is reckoned of several mean squares, such as a share of one variance in another (S. Weerahandi,
/// <i>J. Amer. Statist. Assoc.</i> 88, 1993; for gauge studies M. Hamada and S. Weerahandi, <i>J. Quality Technol.</i> 32, 2000, and
/// Burdick, Borror and Montgomery, 2005; method from memory). Every mean square stands for SS/χ², drawn many times; the middle share of
/// what comes out is the interval. Exact for the ratio of two mean squares, and near it for the rest.</summary>
public sealed class PivotDraws
{
    // So many that an end moves by about a hundredth of the interval from one seed to another.
    private const int Draws = 20_000;

    private readonly Dictionary<int, double[]> _pivots;

    private PivotDraws(Dictionary<int, double[]> pivots) => _pivots = pivots;

    /// <summary>Draws for the rows of an analysis; the same rows give the same draws.</summary>
    public static PivotDraws Of(CrossedVariance variance)
    {
        var random = new Random(19_93);
        return new PivotDraws(variance.Effects.Select(e => (e.Factors, e.Row)).Append((0, variance.Residual))
            .ToDictionary(r => r.Item1, r =>
            {
                var (squares, freedom) = (r.Item2.SumOfSquares, r.Item2.DegreesOfFreedom);
                var pivots = new double[Draws];
                for (var i = 0; i < Draws; i++)
                {
                    pivots[i] = squares / ChiSquared.Sample(random, freedom);
                }

                return pivots;
            }));
    }


    /// <summary>What a sum of mean squares came out as, draw by draw; it may be below 0.</summary>
    public double[] Of(MeanSquares sum)
    {
        var values = new double[Draws];
        foreach (var (weight, _, of) in sum.Terms)
        {
            var pivots = _pivots[of];
            for (var i = 0; i < Draws; i++)
            {
                values[i] += weight * pivots[i];
            }
        }

        return values;
    }

    /// <summary>The interval of a function of such sums.</summary>
    /// <param name="function">What it is in one draw, by its number.</param>
    public static (double Low, double High) Interval(Func<int, double> function, double confidence = 0.95)
    {
        double[] values = [.. Enumerable.Range(0, Draws).Select(function)];
        Array.Sort(values);
        var tail = (int)Math.Round((1 - confidence) / 2 * Draws);
        return (values[tail], values[Draws - 1 - tail]);
    }
}
