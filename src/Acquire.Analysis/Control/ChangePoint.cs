using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>The place at which the mean of a series seems to have stepped, and how sure that place is.</summary>
/// <param name="Index">Index, from 0, of the first value after the step: the most probable place.</param>
/// <param name="Earliest">First index of the shortest run of places that holds the step with the confidence asked for.</param>
/// <param name="Latest">Last index of that run.</param>
/// <param name="Before">Mean before the step, in the unit of the values.</param>
/// <param name="After">Mean from the step on.</param>
/// <param name="P">Chance of a step this clear in a series without one,
/// corrected for having looked at every place (an upper bound).</param>
public sealed record ChangePoint(int Index, int Earliest, int Latest, double Before, double After, double P)
{
    /// <summary>How far the mean moved.</summary>
    public double Step => After - Before;

    /// <summary>Looks for one step. The place is judged by its posterior probability, all places being alike beforehand and
    /// means and scatter unknown: p(τ) ∝ (n₁n₂)^(−1/2) · S(τ)^(−(n−2)/2), S being the sum of squares about the two means (A. F.
    /// M. Smith, <i>Biometrika</i> 62, 1975; from memory).</summary>
    /// <param name="values">The series, in order.</param>
    /// <param name="confidence">Probability that the run of places is to hold.</param>
    /// <returns>The step; null with fewer than 4 values or without any scatter.</returns>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static ChangePoint? Of(IReadOnlyList<double> values, double confidence = 0.95)
    {
        var n = values.Count;
        if (n < 4 || Summary.Of(values) is not { StandardDeviation: > 0 and { } deviation, Mean: var mean })
        {
            return null;
        }

        var total = deviation * deviation * (n - 1);
        var (within, before) = Splits(values, mean, total);
        var least = within.Min();
        var weights = new double[n - 1];
        for (var i = 0; i < weights.Length; i++)
        {
            var (n1, n2) = (i + 1.0, n - i - 1.0);
            // Ratios to the best split, as the powers leave the range of a double; the floor keeps an exact step from being 0 / 0.
            var ratio = Math.Max(within[i], total * 1e-15) / Math.Max(least, total * 1e-15);
            weights[i] = Math.Exp((-0.5 * Math.Log(n1 * n2)) - ((n - 2) / 2.0 * Math.Log(ratio)));
        }

        var best = Array.IndexOf(weights, weights.Max());
        var (from, to) = ShortestRun(weights, confidence);
        var f = within[best] > 0 ? (total - within[best]) / (within[best] / (n - 2)) : double.PositiveInfinity;
        // The best of n − 1 places was picked, so the chance of one of them is counted for each (Bonferroni).
        var p = double.IsPositiveInfinity(f) ? 0 : Math.Min(1, (n - 1) * Quantiles.FisherTail(f, 1, n - 2));
        var after = ((mean * n) - (before[best] * (best + 1))) / (n - best - 1);
        return new ChangePoint(best + 1, from + 1, to + 1, before[best], after, p);
    }

    /// <summary>For a split after each value: squares about the two means, and the mean before
    /// it. One pass over running sums about the whole mean.</summary>
    private static (double[] Within, double[] Before) Splits(IReadOnlyList<double> values, double mean, double total)
    {
        var n = values.Count;
        var (within, before) = (new double[n - 1], new double[n - 1]);
        var sum = default(CompensatedSum);
        for (var i = 0; i < n - 1; i++)
        {
            sum.Add(values[i] - mean);
            var (n1, n2) = (i + 1.0, n - i - 1.0);
            within[i] = Math.Max(0, total - (sum.Value * sum.Value * ((1 / n1) + (1 / n2))));
            before[i] = mean + (sum.Value / n1);
        }

        return (within, before);
    }

    internal static (int From, int To) ShortestRun(double[] weights, double confidence)
    {
        var needed = weights.Sum() * confidence;
        var (best, from, sum) = ((From: 0, To: weights.Length - 1), 0, 0.0);
        for (var to = 0; to < weights.Length; to++)
        {
            sum += weights[to];
            while (sum - weights[from] >= needed)
            {
                sum -= weights[from++];
            }

            if (sum >= needed && to - from < best.To - best.From)
            {
                best = (from, to);
            }
        }

        return best;
    }
}
