using Acquire.Analysis.Gauge;

namespace Acquire.Bench.Trust;

/// <summary>The repeatability tests in the store.</summary>
public sealed class RepeatabilityBook(AcquireStore store)
{
    /// <summary>What a test tells, by the specification it was made with.</summary>
    /// <exception cref="GaugeException">No patch was read twice.</exception>
    public static RepeatabilityReport ReportOf(RepeatabilityTest test, ProcessSheet? sheet = null) => RepeatabilityStudy.Of(
        TestReads.Of(test.Patches, test.ReadsPerPlacement), RepeatabilitySpecification.Same(test.Specification), sheet);

    /// <summary>All tests in the order of reading, each with what it tells.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<(RepeatabilityTest Test, RepeatabilityReport Report)>> ListAsync(CancellationToken cancellationToken) =>
        [.. (await store.ListRepeatabilityTestsAsync(cancellationToken)).Select(t => (t, ReportOf(t)))];

    /// <summary>The test read last with a device profile; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityReport?> LastReportAsync(string? profile, CancellationToken cancellationToken) =>
        KnownScatter.LastOf(await store.ListRepeatabilityTestsAsync(cancellationToken), profile) is { } test ? ReportOf(test) : null;

    /// <summary>The last test of a device profile with what it told, for the record of a strip; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceAsync(string profile, CancellationToken cancellationToken) =>
        (await ListAsync(cancellationToken)).LastOrDefault(t => t.Test.Provenance.Instrument?.Profile == profile) is ({ } test, { } report)
            ? Of(test, report)
            : null;

    /// <summary>One test with what it told; null when there is no such test.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceAsync(Guid testId, CancellationToken cancellationToken) =>
        (await store.ListRepeatabilityTestsAsync(cancellationToken)).FirstOrDefault(t => t.Id == testId) is { } test
            ? Of(test, ReportOf(test))
            : null;

    /// <summary>
    /// The test that counts for the aims of a lot: the last one of the profile its reference was read with; null where there is none, or where the
    /// reference was entered.
    /// </summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceForAsync(
        LotReference? reference, CancellationToken cancellationToken, DateTimeOffset? at = null) =>
        reference?.Provenance.Instrument is { } used
        && (await ListAsync(cancellationToken)).LastOrDefault(t => t.Test.Provenance.Instrument?.Profile == used.Profile && t.Test.Provenance.At <= (at ?? DateTimeOffset.MaxValue))
            is ({ } test, { } report)
            ? Of(test, report)
            : null;

    /// <summary>The scatter of one read at any moment, for uncertainties.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<KnownScatter> KnownAsync(CancellationToken cancellationToken) =>
        new(await store.ListRepeatabilityTestsAsync(cancellationToken));

    private static RepeatabilityInForce Of(RepeatabilityTest test, RepeatabilityReport report) => new(
        test.Id, [.. report.Channels.Select(c => new ChannelScatter(c.Channel, c.Pooled.Stated, c.Pooled.DegreesOfFreedom))]);
}
