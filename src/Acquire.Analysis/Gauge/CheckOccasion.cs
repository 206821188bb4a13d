using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>One occasion on which a reference was read, in one channel.</summary>
/// <param name="Label">What the user knows it by, such as its date.</param>
/// <param name="Mean">Mean of the reads.</param>
/// <param name="StandardDeviation">Short-term standard deviation of the reads; null with one read.</param>
/// <param name="Reads">How many reads.</param>
public sealed record CheckOccasion(string Label, double Mean, double? StandardDeviation, int Reads)
{
    /// <summary>An occasion from its reads.</summary>
    /// <exception cref="ArgumentException">There are no reads, or one is not finite.</exception>
    public static CheckOccasion Of(string label, IReadOnlyList<double> reads)
    {
        var summary = Summary.Of(reads);
        return new CheckOccasion(label, summary.Mean, summary.StandardDeviation, summary.Count);
    }
}
