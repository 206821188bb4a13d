using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Holds readings of a plaque against its certified values.</summary>
public static class CalibrationAssessment
{
    /// <summary>Assesses readings.</summary>
    /// <param name="plaque">The plaque.</param>
    /// <param name="data">The readings; patches and channels that the plaque does not certify are left out.</param>
    /// <param name="repeatability">
    /// Scatter of a read known from a repeatability test, per channel; it is pooled with what the readings' own repeats show.
    /// </param>
    /// <exception cref="GaugeException">
    /// No certified patch was read, or the readings fall where the certified values rise.
    /// </exception>
    public static CalibrationReport Of(
        Plaque plaque, RepeatabilityData data, IReadOnlyDictionary<Channel, PooledDeviation>? repeatability = null)
    {
        ArgumentNullException.ThrowIfNull(plaque);
        ArgumentNullException.ThrowIfNull(data);
        var channels = data.ChannelsPresent
            .Select(channel => PlaqueReads.Of(plaque, data, channel, repeatability))
            .Where(reads => reads.Patches.Length > 0)
            .ToImmutableArray();
        if (channels.IsEmpty)
        {
            throw new GaugeException(
                $"None of the readings is of a certified patch; the plaque has "
                + $"{string.Join(", ", plaque.Patches.Select(p => p.Patch.Key))}, read {string.Join(", ", data.Patches)}.");
        }

        var results = channels.Select(reads => Assess(reads, plaque.Tolerance)).ToImmutableArray();
        return new CalibrationReport(results, Overall(results.Select(r => r.Verdict)), [.. channels.SelectMany(r => NotesOf(plaque, r))]);
    }

    internal static CheckVerdict Overall(IEnumerable<CheckVerdict> verdicts) => verdicts.Max();

    private static ChannelCalibration Assess(PlaqueReads reads, double tolerance)
    {
        reads.RefuseFalling(tolerance);
        ImmutableArray<PlaqueError> errors = [.. reads.Patches.Select(p => reads.ErrorOf(p, tolerance))];
        var verdict = Overall(errors.Select(e => e.Verdict));
        var line = PlaqueLine.Of(reads);
        var zero = line?.Zero ?? reads.MeanError(errors);
        var (cause, advice) = CalibrationAdvice.Of(errors, zero, line?.Slope, verdict, tolerance);
        return new ChannelCalibration(reads.Channel, errors, zero, line?.Slope, verdict, cause, advice);
    }

    private static IEnumerable<string> NotesOf(Plaque plaque, PlaqueReads reads)
    {
        var word = reads.Channel.Word();
        var unread = plaque.Patches
            .Where(p => p.Certified[reads.Channel] is not null && reads.Patches.All(r => r.Certified != p))
            .Select(p => p.Patch.Key)
            .ToArray();
        if (unread.Length > 0)
        {
            yield return $"{word}: not read: {string.Join(", ", unread)}.";
        }

        if (reads.Patches.Length < 3)
        {
            yield return string.Create(
                CultureInfo.InvariantCulture,
                $"{word}: with {reads.Patches.Length} certified densities only the zero is estimated; a slope needs three.");
        }

        if (PlaqueLine.Of(reads) is { IsBent: true })
        {
            yield return $"{word}: the readings lie farther from a straight line than their uncertainties explain; the intervals of "
                + "zero and slope are wider for it.";
        }

        if (reads.Deviation is null)
        {
            yield return $"{word}: no patch was read twice and no repeatability is known, so the uncertainty holds the display step and "
                + "the certificate only.";
        }
    }
}
