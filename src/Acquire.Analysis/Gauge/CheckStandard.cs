using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>A reference that is read from time to time, charted against limits from its own first
/// occasions (NIST/SEMATECH e-Handbook 2.2.2 and 2.2.3).</summary>
/// <param name="Centre">Mean of the baseline means.</param>
/// <param name="S">Standard deviation of the baseline means, ν = m − 1; never below the d/√12 of the display step.</param>
/// <param name="Baseline">How many occasions the limits rest on, m.</param>
/// <param name="Lower">Lower control limit of a mean, centre − t(0.975; m − 1) · s.</param>
/// <param name="Upper">Upper control limit of a mean.</param>
/// <param name="ShortTerm">Pooled short-term standard deviation of the baseline,
/// never below d/√12; null when no occasion has two reads.</param>
/// <param name="Points">Every occasion, in the given order.</param>
public sealed record CheckStandard(
    double Centre, double S, int Baseline, double Lower, double Upper, PooledDeviation? ShortTerm, ImmutableArray<CheckPoint> Points)
{
    /// <summary>Charts occasions.</summary>
    /// <param name="occasions">Every occasion in order, the baseline first.</param>
    /// <param name="baseline">How many of the first occasions make the limits; null for all.</param>
    /// <param name="resolution">Display step, above 0; null when not known. It keeps the limits of equal means from closing up.</param>
    /// <exception cref="GaugeException">The baseline has fewer than two occasions,
    /// or more than there are, or a number is not finite.</exception>
    public static CheckStandard Of(ImmutableArray<CheckOccasion> occasions, int? baseline = null, double? resolution = null)
    {
        var count = baseline ?? occasions.Length;
        if (count < 2 || count > occasions.Length)
        {
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"Control limits need two occasions of their baseline at least, better ten; there are {occasions.Length}, of which "
                + $"{count} make the baseline. Read the reference strip again on another day."));
        }

        if (occasions.FirstOrDefault(o => !double.IsFinite(o.Mean) || o.StandardDeviation is < 0 or double.NaN) is { } odd)
        {
            throw new GaugeException($"The occasion {odd.Label} has a mean or a standard deviation that is no number.");
        }

        var first = occasions.Take(count).ToArray();
        var means = Summary.Of([.. first.Select(o => o.Mean)]);
        var least = (resolution ?? 0) / Math.Sqrt(12);
        var s = Math.Max(means.StandardDeviation!.Value, least);
        // Student's t and not 2 or 3 sigma: a baseline of few occasions knows its own scatter badly.
        var margin = Quantiles.Student(0.975, count - 1) * s;
        var shortTerm = PooledDeviation.Of(first.Select(o => (o.StandardDeviation ?? 0, o.Reads - 1))) is { } pooled
            ? pooled with { StandardDeviation = Math.Max(pooled.StandardDeviation, least) }
            : (PooledDeviation?)null;
        return new CheckStandard(
            means.Mean, s, count, means.Mean - margin, means.Mean + margin, shortTerm,
            [.. occasions.Select(o => CheckPoint.Of(o, means.Mean, margin, shortTerm))]);
    }
}

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

/// <summary>One occasion against the limits.</summary>
/// <param name="MeanOutside">Whether its mean is outside the control limits: the instrument, or the reference itself, has moved.</param>
/// <param name="ScatterLimit">Upper limit of its short-term standard deviation, s₁ · √F(0.95; n − 1, Σν); null without one.</param>
/// <param name="ScatterOutside">Whether its reads scatter more than that: handling, dust, a restless lamp.</param>
public sealed record CheckPoint(CheckOccasion Occasion, bool MeanOutside, double? ScatterLimit, bool ScatterOutside)
{
    // A mean of decimals this close to a limit is on it, and on it is inside.
    private const double Hair = 1e-9;

    internal static CheckPoint Of(CheckOccasion occasion, double centre, double margin, PooledDeviation? shortTerm)
    {
        double? limit = shortTerm is { } s && occasion.Reads > 1
            ? s.StandardDeviation * Math.Sqrt(Quantiles.Fisher(0.95, occasion.Reads - 1, s.DegreesOfFreedom))
            : null;
        return new CheckPoint(
            occasion, Math.Abs(occasion.Mean - centre) > margin + Hair, limit,
            limit is { } most && occasion.StandardDeviation > most + Hair);
    }
}

/// <summary>One patch of a reference strip in one channel, over the occasions on which it was read.</summary>
/// <param name="Patch">Key of the patch.</param>
public sealed record ReferenceChart(string Patch, Channel Channel, CheckStandard Chart);

/// <summary>A reference strip, re-read from time to time, as the check standard of the instrument.</summary>
public static class ReferenceHistory
{
    /// <summary>Charts every patch and channel that was read on two occasions of the baseline at least.</summary>
    /// <param name="occasions">What the user knows each occasion by, and its reads; in order, the baseline first.</param>
    /// <param name="baseline">How many of the first occasions make the limits; null for all.</param>
    /// <returns>By patch in the order of first reading, then by channel.</returns>
    /// <exception cref="GaugeException">No patch was read on two occasions of the baseline.</exception>
    public static ImmutableArray<ReferenceChart> Of(ImmutableArray<(string Label, RepeatabilityData Reads)> occasions, int? baseline = null)
    {
        var count = baseline ?? occasions.Length;
        ImmutableArray<ReferenceChart> charts =
        [
            .. from patch in occasions.SelectMany(o => o.Reads.Patches).Distinct(StringComparer.OrdinalIgnoreCase)
               from channel in Channels.All
               let first = Points(occasions.Take(count), patch, channel)
               where first.Length > 1
               let all = first.AddRange(Points(occasions.Skip(count), patch, channel))
               let step = occasions.Where(o => !o.Reads.Of(patch, channel).IsEmpty).Max(o => o.Reads.StepOf(channel))
               select new ReferenceChart(patch, channel, CheckStandard.Of(all, first.Length, step)),
        ];
        return charts.IsEmpty
            ? throw new GaugeException(
                "No patch of the reference was read on two occasions, so it has no limits yet; read the reference strip again on "
                + "another day.")
            : charts;
    }

    private static ImmutableArray<CheckOccasion> Points(
        IEnumerable<(string Label, RepeatabilityData Reads)> occasions, string patch, Channel channel) =>
    [
        .. from occasion in occasions
           let reads = occasion.Reads.Of(patch, channel)
           where !reads.IsEmpty
           select CheckOccasion.Of(occasion.Label, [.. reads.Select(r => (double)r.Values[channel])]),
    ];
}
