using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Control;

/// <summary>How much a value resembles the one before it. Where it does, run rules ring more often than their tables say.</summary>
public static class Autocorrelation
{
    /// <summary>Lag-1 autocorrelation, as the NIST Statistical Reference Datasets define it.</summary>
    /// <returns>−1 … 1; null with fewer than 3 values or without any scatter.</returns>
    /// <exception cref="ArgumentException">A value is not finite.</exception>
    public static double? Lag1(IReadOnlyList<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        if (values.Count < 3)
        {
            return null;
        }

        var mean = Summary.Of(values).Mean;
        var (products, squares) = (default(CompensatedSum), default(CompensatedSum));
        for (var i = 0; i < values.Count; i++)
        {
            squares.Add((values[i] - mean) * (values[i] - mean));
            if (i > 0)
            {
                products.Add((values[i] - mean) * (values[i - 1] - mean));
            }
        }

        return squares.Value > 0 ? products.Value / squares.Value : null;
    }

    /// <summary>
    /// Whether a lag-1 autocorrelation is more than chance: |r| above 1.96/√n (common large-sample rule).
    /// </summary>
    public static bool IsMoreThanChance(double lag1, int count) => Math.Abs(lag1) > 1.96 / Math.Sqrt(count);
}
