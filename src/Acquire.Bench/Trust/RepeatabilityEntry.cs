using Acquire.Analysis.Gauge;
using Acquire.Formats.Csv;

namespace Acquire.Bench.Trust;

/// <summary>A repeatability test that was kept.</summary>
/// <param name="Test">The test.</param>
/// <param name="Report">What it tells.</param>
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
    /// <param name="reads">The readings.</param>
    /// <param name="instrument">The instrument they are of.</param>
    /// <param name="specification">The largest standard deviation that passes, in density.</param>
    /// <param name="by">Who enters them.</param>
    /// <param name="cancellationToken">Cancels.</param>
    /// <exception cref="BenchException">Placements have unequal numbers of reads.</exception>
    /// <exception cref="GaugeException">There are no reads, no patch was read twice, or the specification is not above 0.</exception>
    /// <exception cref="ImportException">A number is no density.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<KeptTest> EnterAsync(
        IReadOnlyCollection<ImportedRead> reads,
        InstrumentInUse instrument, double specification, string by, CancellationToken cancellationToken)
    {
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
        var report =
            RepeatabilityStudy.Of(RepeatabilityData.Of(patches, readsPerPlacement), RepeatabilitySpecification.Same(specification));
        if (report.Channels.FirstOrDefault(c => c.Pooled.S > Unbelievable) is { } wild)
        {
            throw new GaugeException(string.Create(
                CultureInfo.InvariantCulture,
                $"The reads of one patch scatter by {wild.Pooled.S:0.00} in {wild.Channel.Word()}: they are of different patches, or "
                + $"something is badly wrong with the instrument. Nothing is kept of this test; read one patch at a time, as the prompt "
                    + $"names it."));
        }

        var before = await _book.LastReportAsync(provenance.Instrument?.Profile, cancellationToken);
        var test = new RepeatabilityTest(
            Guid.CreateVersion7(time.GetUtcNow()), patches, readsPerPlacement, specification, report.Passes, provenance, session);
        return new KeptTest(test, report, before is null ? null : RepeatabilityComparison.Of(before, report));
    }
}
