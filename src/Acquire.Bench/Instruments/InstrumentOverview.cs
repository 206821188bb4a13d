using Acquire.Analysis.Gauge;
using Acquire.Bench.Trust;
using Acquire.Storage.Records;

namespace Acquire.Bench.Instruments;

/// <summary>An instrument with its changes and what is known of it.</summary>
/// <param name="History">All its revisions, oldest first; the last is in force.</param>
/// <param name="Check">Whether a calibration check is in force.</param>
/// <param name="Test">Its last repeatability test; null when there is none.</param>
/// <param name="Use">What was read with it; null when nothing was.</param>
public sealed record InstrumentOverview(
    ImmutableArray<Instrument> History, CheckStanding Check, (RepeatabilityTest Made, RepeatabilityReport Told)? Test, InstrumentUse? Use)
{
    /// <summary>As it stands.</summary>
    public Instrument Instrument => History[^1];

    /// <exception cref="BenchException">There is no such instrument.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<InstrumentOverview> OfAsync(
        AcquireStore store, InstrumentBook book, string name, TimeProvider time, CancellationToken cancellationToken)
    {
        var history = await book.HistoryAsync(name, cancellationToken);
        var own = history[^1].Name;
        var test = (await store.ListRepeatabilityTestsAsync(cancellationToken))
            .LastOrDefault(t => Keys.Same(t.Provenance.Instrument?.Name, own));
        return new InstrumentOverview(
            history,
            await new CheckBook(store, time).StandingAsync(own, cancellationToken),
            test is null ? null : (test, RepeatabilityStudy.Of(test)),
            (await store.ListInstrumentUsesAsync(cancellationToken)).FirstOrDefault(u => Keys.Same(u.Name, own)));
    }
}

/// <summary>The instruments of the house, and those that only records name.</summary>
/// <param name="Elsewhere">Names of instruments that are in no house of ours, as imported records have them.</param>
public sealed record InstrumentList(
    ImmutableArray<(Instrument Instrument, InstrumentUse? Use)> Instruments, ImmutableArray<InstrumentUse> Elsewhere)
{
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<InstrumentList> OfAsync(AcquireStore store, InstrumentBook book, CancellationToken cancellationToken)
    {
        var uses = await store.ListInstrumentUsesAsync(cancellationToken);
        var all = await book.ListAsync(cancellationToken);
        return new InstrumentList(
            [.. all.Select(i => (i, uses.FirstOrDefault(u => Keys.Same(u.Name, i.Name))))],
            [.. uses.Where(u => all.All(i => !Keys.Same(i.Name, u.Name)))]);
    }
}
