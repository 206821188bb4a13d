using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>
/// A reference that is read from time to time, charted against limits from its own first occasions (NIST/SEMATECH e-Handbook 2.2.2
/// and 2.2.3).
/// </summary>
/// <param name="Centre">Mean of the baseline means.</param>
/// <param name="S">Standard deviation of the baseline means, ν = m − 1; never below the d/√12 of the display step.</param>
/// <param name="Baseline">How many occasions the limits rest on, m.</param>
/// <param name="Lower">Lower control limit of a mean, centre − t(0.975; m − 1) · s.</param>
/// <param name="Upper">Upper control limit of a mean.</param>
/// <param name="ShortTerm">
/// Pooled short-term standard deviation of the baseline, never below d/√12; null when no occasion has two reads.
/// </param>
/// <param name="Points">Every occasion, in the given order.</param>
public sealed record CheckStandard(
    double Centre, double S, int Baseline, double Lower, double Upper, PooledDeviation? ShortTerm, ImmutableArray<CheckPoint> Points)
{
    /// <summary>The occasions that are outside in mean or scatter.</summary>
    public IEnumerable<CheckPoint> Flagged => Points.Where(p => p.MeanOutside || p.ScatterOutside);

    /// <summary>Charts occasions.</summary>
    /// <param name="occasions">Every occasion in order, the baseline first.</param>
    /// <param name="baseline">How many of the first occasions make the limits; null for all.</param>
    /// <param name="resolution">Display step, above 0; null when not known. It keeps the limits of equal means from closing up.</param>
    /// <exception cref="GaugeException">
    /// The baseline has fewer than two occasions, or more than there are, or a number is not finite.
    /// </exception>
    public static CheckStandard Of(ImmutableArray<CheckOccasion> occasions, int? baseline = null, double? resolution = null)
    {
        var count = baseline ?? occasions.Length;
        if (count < 2 || count > occasions.Length)
        {
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"Control limits need two occasions of their baseline at least, better ten; there are {occasions.Length}, of which {count} make the baseline. Read the reference strip again on another day."));
        }

        if (occasions.FirstOrDefault(o => !double.IsFinite(o.Mean) || o.StandardDeviation is < 0 or double.NaN) is { } odd)
        {
            throw new GaugeException($"The occasion {odd.Label} has a mean or a standard deviation that is no number.");
        }

        var first = occasions.Take(count).ToArray();
        var means = Summary.Of([.. first.Select(o => o.Mean)]);
        var least = (resolution ?? 0) / Math.Sqrt(12);
        var s = Math.Max(means.StandardDeviation!.Value, least);
        var margin = Quantiles.Student(0.975, count - 1) * s;
        var shortTerm = PooledDeviation.Of(first.Select(o => (o.StandardDeviation ?? 0, o.Reads - 1))) is { } pooled
            ? pooled with { StandardDeviation = Math.Max(pooled.StandardDeviation, least) }
            : (PooledDeviation?)null;
        return new CheckStandard(
            means.Mean,
            s,
            count,
            means.Mean - margin,
            means.Mean + margin,
            shortTerm,
            [.. occasions.Select(o => CheckPoint.Of(o, means.Mean, margin, shortTerm))]);
    }
}
