using Acquire.Analysis.Statistics;

namespace Acquire.Bench.Trust;

/// <summary>
/// The scatter of one read as repeatability tests told it at any moment. Tests are never changed or taken away, so what was judged by one is
/// judged by the same one for ever.
/// </summary>
/// <param name="tests">Tests in the order of reading.</param>
public sealed class KnownScatter(IReadOnlyList<RepeatabilityTest> tests)
{
    private readonly Dictionary<Guid, ImmutableDictionary<Channel, PooledDeviation>> _told = [];

    /// <summary>The scatter by the last test until a moment with a device profile or elsewhere; empty when there was none.</summary>
    /// <param name="moment">When it is asked for.</param>
    /// <param name="profile">Name of the device profile; null for any.</param>
    public ImmutableDictionary<Channel, PooledDeviation> At(DateTimeOffset moment, string? profile) =>
        LastOf(tests.Where(t => t.Provenance.At <= moment), profile) is { } test ? ToldBy(test) : ImmutableDictionary<Channel, PooledDeviation>.Empty;

    internal static RepeatabilityTest? LastOf(IEnumerable<RepeatabilityTest> tests, string? profile) =>
        tests.LastOrDefault(t => profile is null || t.Provenance.Instrument is not { } used || used.Profile == profile);

    private ImmutableDictionary<Channel, PooledDeviation> ToldBy(RepeatabilityTest test)
    {
        if (!_told.TryGetValue(test.Id, out var told))
        {
            told = RepeatabilityBook.ReportOf(test).Channels.ToImmutableDictionary(
                c => c.Channel, c => new PooledDeviation(c.Pooled.Stated, c.Pooled.DegreesOfFreedom));
            _told.Add(test.Id, told);
        }

        return told;
    }
}
