using Acquire.Analysis.Gauge;
using Acquire.Analysis.Statistics;
using Acquire.Formats.Csv;

namespace Acquire.Bench.Trust;

/// <summary>The repeatability tests in the store.</summary>
public sealed class RepeatabilityBook(AcquireStore store)
{
    /// <summary>All tests in the order of reading, each with what it tells.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<ImmutableArray<(RepeatabilityTest Test, RepeatabilityReport Report)>> ListAsync(
        CancellationToken cancellationToken) =>
        [.. (await store.ListRepeatabilityTestsAsync(cancellationToken)).Select(t => (t, RepeatabilityStudy.Of(t)))];

    /// <summary>The test read last with an instrument; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityReport?> LastReportAsync(string? instrument, CancellationToken cancellationToken) =>
        KnownScatter.LastOf(await store.ListRepeatabilityTestsAsync(cancellationToken), instrument) is { } test
            ? RepeatabilityStudy.Of(test)
            : null;

    /// <summary>The tests by the moments at which they were in force.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<TestsInForce> InForceAsync(CancellationToken cancellationToken) =>
        new(await store.ListRepeatabilityTestsAsync(cancellationToken));

    /// <summary>The last test of an instrument with what it told, for the record of a strip; null when there is none.</summary>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RepeatabilityInForce?> InForceAsync(string instrument, CancellationToken cancellationToken) =>
        (await InForceAsync(cancellationToken)).Until(DateTimeOffset.MaxValue, instrument);

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

    /// <summary>
    /// The scatter by the last test until a moment with an instrument or with one that nobody named; empty when there was none.
    /// </summary>
    /// <param name="moment">When it is asked for.</param>
    /// <param name="instrument">Its name; null for any.</param>
    public ImmutableDictionary<Channel, PooledDeviation> At(DateTimeOffset moment, string? instrument) =>
        LastOf(tests.Where(t => t.Provenance.At <= moment), instrument) is { } test
            ? ToldBy(test)
            : ImmutableDictionary<Channel, PooledDeviation>.Empty;

    internal static RepeatabilityTest? LastOf(IEnumerable<RepeatabilityTest> tests, string? instrument) =>
        tests.LastOrDefault(
            t => instrument is null || t.Provenance.Instrument is not { } used || Keys.Same(used.Name, instrument));

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

/// <summary>A repeatability test that was kept.</summary>
/// <param name="Comparison">How it compares with the test before; null when there is none.</param>
public sealed record KeptTest(RepeatabilityTest Test, RepeatabilityReport Report, RepeatabilityComparison? Comparison) : KeptReading
{
    public override bool Holds => Report.Passes;
}

/// <summary>Keeps repeatability tests, those read at the instrument and those whose readings were taken elsewhere.</summary>
public sealed class RepeatabilityEntry(AcquireStore store, TimeProvider time)
{
    /// <summary>
    /// No densitometer repeats as badly as this, in density; a test that says so would spoil every uncertainty that rests on it.
    /// </summary>
    private const double Unbelievable = 0.25;

    private readonly RepeatabilityBook _book = new(store);

    /// <summary>Judges and keeps readings that were taken elsewhere; from then on they count like a test read at the instrument.</summary>
    /// <param name="specification">The largest standard deviation that passes, in density.</param>
    /// <param name="by">Who enters them.</param>
    /// <exception cref="BenchException">Placements have unequal numbers of reads.</exception>
    /// <exception cref="GaugeException">There are no reads, no patch was read twice, or the specification is not above 0.</exception>
    /// <exception cref="ImportException">A number is no density.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<KeptTest> EnterAsync(
        IReadOnlyCollection<ImportedRead> reads,
        InstrumentInUse instrument,
        double specification,
        string by,
        CancellationToken cancellationToken)
    {
        // Refuses an empty file before anything is said about its placements.
        _ = TestReads.Of(reads);
        var now = time.GetUtcNow();
        var entered = EnteredReads.Of(reads, now);
        var judged = await JudgeAsync(
            entered.Patches, entered.ReadsPerPlacement, specification, new Provenance(now, by, instrument), null, cancellationToken);
        await store.AddRepeatabilityTestAsync(judged.Test, cancellationToken);
        return judged;
    }

    /// <summary>Makes a test of readings, with what it tells and how it compares with the test before.</summary>
    /// <exception cref="GaugeException">No patch was read twice, or the reads of one patch cannot be of one patch.</exception>
    internal async Task<KeptTest> JudgeAsync(
        ImmutableArray<PatchReads> patches,
        int readsPerPlacement,
        double specification,
        Provenance provenance,
        Guid? session,
        CancellationToken cancellationToken)
    {
        var report = RepeatabilityStudy.Of(
            RepeatabilityData.Of(patches, readsPerPlacement), RepeatabilitySpecification.Same(specification));
        if (report.Channels.FirstOrDefault(c => c.Pooled.S > Unbelievable) is { } wild)
        {
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"The reads of one patch scatter by {wild.Pooled.S:0.00} in {wild.Channel.Word()}: "
                + $"they are of different patches, or something is badly wrong with the instrument. "
                + $"Nothing is kept of this test; read one patch at a time, as the prompt names it."));
        }

        var before = await _book.LastReportAsync(provenance.Instrument?.Name, cancellationToken);
        var test = new RepeatabilityTest(
            Guid.CreateVersion7(time.GetUtcNow()), patches, readsPerPlacement, specification, report.Passes, provenance, session);
        return new KeptTest(test, report, before is null ? null : RepeatabilityComparison.Of(before, report));
    }
}
