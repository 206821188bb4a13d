namespace Acquire.Analysis.Gauge;

/// <summary>One patch of a reference strip in one channel, over the occasions on which it was read.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Chart">Its chart.</param>
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
