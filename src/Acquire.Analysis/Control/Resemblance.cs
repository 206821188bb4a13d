using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>How much each strip of a process resembles the one before, all its series together.</summary>
/// <param name="Lag1">Autocorrelation of one strip with the next, corrected for the levels that were taken out.</param>
/// <param name="StandardError">Of it, were there none.</param>
/// <param name="Strips">Strips of the longest series.</param>
internal sealed record Resemblance(double Lag1, double StandardError, int Strips)
{
    /// <summary>Fewer values tell nothing of how they resemble each other.</summary>
    private const int Fewest = 10;

    /// <summary>One-sided, 3 %: the promise is one in twenty, and the error is itself estimated.</summary>
    private const double Clear = 1.88;

    /// <summary>Whether it is more than chance.</summary>
    public bool IsClear => Lag1 > Clear * StandardError;

    /// <summary>Looks at series of which every level has been taken out.</summary>
    /// <param name="levels">For each series its stretches of one level, oldest first.</param>
    /// <param name="independent">As how many independent series they count.</param>
    /// <returns>The resemblance; null where strips are too few or do not scatter.</returns>
    public static Resemblance? Of(IEnumerable<IReadOnlyList<double[]>> levels, double independent)
    {
        var (sum, weight, error) = (0.0, 0.0, 0.0);
        var strips = 0;
        foreach (var series in levels)
        {
            var stretches = series.Where(s => s.Length > 2).ToList();
            var n = stretches.Sum(s => s.Length);
            var squares = stretches.Sum(s => Summary.Of(s) is { StandardDeviation: { } d } ? d * d * (s.Length - 1) : 0);
            if (n < Fewest || squares <= 0)
            {
                continue;
            }

            var products = stretches.Sum(s => s.Zip(s.Skip(1), (a, b) => (a - s.Average()) * (b - s.Average())).Sum());
            // E[r] ≈ ρ − (1 + 4ρ)/n for a level that is itself estimated (Kendall 1954; Marriott and Pope 1954; from memory): once for
            // each.
            double m = stretches.Count;
            var corrected = n > 4 * m ? ((products / squares * n) + m) / (n - (4 * m)) : products / squares;
            (sum, weight, error, strips) =
                (sum + (n * Math.Clamp(corrected, -1, 1)), weight + n, error + (n * n / Math.Max(1, n - (4 * m))), Math.Max(strips, n));
        }

        // The correction magnifies the error of a stretch as it does the figure.
        return weight > 0 ? new Resemblance(sum / weight, Math.Sqrt(error / weight / (strips * Math.Max(1, independent))), strips) : null;
    }

    /// <summary>As how many independent series some count that move together: (tr R)²/tr R² of their correlations (the participation
    /// ratio).
    /// </summary>
    public static double Independent(IReadOnlyList<SeriesWatch> series)
    {
        var residuals = series.Select(s => s.Residuals()).Where(r => r.Count > 2 && r.Values.Any(v => v != 0)).ToList();
        var sum = 0.0;
        foreach (var a in residuals)
        {
            foreach (var b in residuals)
            {
                var both = a.Where(p => b.ContainsKey(p.Key)).Select(p => (X: p.Value, Y: b[p.Key])).ToList();
                var scale = both.Sum(p => p.X * p.X) * both.Sum(p => p.Y * p.Y);
                var product = both.Sum(p => p.X * p.Y);
                sum += ReferenceEquals(a, b) ? 1 : scale > 0 ? product * product / scale : 0;
            }
        }

        return sum > 0 ? residuals.Count * (double)residuals.Count / sum : 1;
    }
}
