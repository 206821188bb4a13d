using System.Collections.Immutable;
using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Domain.Trust;
using Acquire.Storage;

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
        (await store.ListRepeatabilityTestsAsync(cancellationToken))
            .LastOrDefault(t => profile is null || t.Provenance.Instrument is not { } used || used.Profile == profile) is { } test
                ? ReportOf(test)
                : null;

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

    /// <summary>The scatter of one read by the last test of a device profile, for uncertainties; empty when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableDictionary<Channel, PooledDeviation>> KnownAsync(string? profile, CancellationToken cancellationToken) =>
        (await LastReportAsync(profile, cancellationToken))?.Channels.ToImmutableDictionary(
            c => c.Channel, c => new PooledDeviation(c.Pooled.Stated, c.Pooled.DegreesOfFreedom))
        ?? ImmutableDictionary<Channel, PooledDeviation>.Empty;

    private static RepeatabilityInForce Of(RepeatabilityTest test, RepeatabilityReport report) => new(
        test.Id, [.. report.Channels.Select(c => new ChannelScatter(c.Channel, c.Pooled.Stated, c.Pooled.DegreesOfFreedom))]);
}
