using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;

namespace Acquire.Bench.Trust;

/// <summary>Judges the reads of a plaque by its certified values.</summary>
public static class CheckJudge
{
    /// <summary>What the reads tell.</summary>
    /// <param name="plaque">The plaque.</param>
    /// <param name="patches">The reads.</param>
    /// <param name="known">The scatter of one read from a repeatability test; pooled with what repeats of the patches show.</param>
    /// <exception cref="GaugeException">No read counts, or the readings fall where the plaque rises.</exception>
    public static CalibrationReport Judge(
        Plaque plaque, ImmutableArray<PatchReads> patches, IReadOnlyDictionary<Channel, PooledDeviation>? known = null) =>
        CalibrationAssessment.Of(plaque, TestReads.Of(patches), known);

    /// <summary>
    /// Whether the check is passed: every certified patch was read, and every mean lies inside the tolerance by plain comparison. The
    /// uncertainty says how sure that is; were it to decide, a plaque with a wide certificate could never be passed.
    /// </summary>
    public static bool Passes(Plaque plaque, CalibrationReport report) =>
        plaque.Channels.All(c => report[c] is { } channel && channel.Patches.Length == plaque.Patches.Length && channel.Patches.All(p => p.IsInside));
}
