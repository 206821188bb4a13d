using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;

namespace Acquire.Bench.Trust;

/// <summary>The repeatability tests in the store.</summary>
public sealed class RepeatabilityBook(AcquireStore store)
{
    /// <summary>All tests in the order of reading, each with what it tells.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<(RepeatabilityTest Test, RepeatabilityReport Report)>> ListAsync(
        CancellationToken cancellationToken) =>
        [.. (await store.ListRepeatabilityTestsAsync(cancellationToken)).Select(t => (t, RepeatabilityStudy.Of(t)))];

    /// <summary>The test read last with a device profile; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityReport?> LastReportAsync(string? profile, CancellationToken cancellationToken) =>
        KnownScatter.LastOf(await store.ListRepeatabilityTestsAsync(cancellationToken), profile) is { } test
            ? RepeatabilityStudy.Of(test)
            : null;

    /// <summary>The tests by the moments at which they were in force.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<TestsInForce> InForceAsync(CancellationToken cancellationToken) =>
        new(await store.ListRepeatabilityTestsAsync(cancellationToken));

    /// <summary>The last test of a device profile with what it told, for the record of a strip; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceAsync(string profile, CancellationToken cancellationToken) =>
        (await InForceAsync(cancellationToken)).Until(DateTimeOffset.MaxValue, profile);

    /// <summary>One test with what it told; null when there is no such test.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceAsync(Guid testId, CancellationToken cancellationToken) =>
        (await store.ListRepeatabilityTestsAsync(cancellationToken)).FirstOrDefault(t => t.Id == testId) is { } test
            ? RepeatabilityStudy.Of(test).InForce(test.Id)
            : null;

    /// <summary>The scatter of one read at any moment, for uncertainties.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<KnownScatter> KnownAsync(CancellationToken cancellationToken) =>
        new(await store.ListRepeatabilityTestsAsync(cancellationToken));
}

/// <summary>
/// The scatter of one read as repeatability tests told it at any moment. Tests are never changed or taken away, so what was judged by one
/// is judged by the same one for ever.
/// </summary>
/// <param name="tests">Tests in the order of reading.</param>
public sealed class KnownScatter(IReadOnlyList<RepeatabilityTest> tests)
{
    private readonly Dictionary<Guid, ImmutableDictionary<Channel, PooledDeviation>> _told = [];

    /// <summary>The scatter by the last test until a moment with a device profile or elsewhere; empty when there was none.</summary>
    /// <param name="moment">When it is asked for.</param>
    /// <param name="profile">Name of the device profile; null for any.</param>
    public ImmutableDictionary<Channel, PooledDeviation> At(DateTimeOffset moment, string? profile) =>
        LastOf(tests.Where(t => t.Provenance.At <= moment), profile) is { } test
            ? ToldBy(test)
            : ImmutableDictionary<Channel, PooledDeviation>.Empty;

    internal static RepeatabilityTest? LastOf(IEnumerable<RepeatabilityTest> tests, string? profile) =>
        tests.LastOrDefault(t => profile is null || t.Provenance.Instrument is not { } used || used.Profile == profile);

    private ImmutableDictionary<Channel, PooledDeviation> ToldBy(RepeatabilityTest test)
    {
        if (!_told.TryGetValue(test.Id, out var told))
        {
            told = RepeatabilityStudy.Of(test).Channels.ToImmutableDictionary(
                c => c.Channel, c => new PooledDeviation(c.Pooled.Stated, c.Pooled.DegreesOfFreedom));
            _told.Add(test.Id, told);
        }

        return told;
    }
}
