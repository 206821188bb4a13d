using Acquire.Analysis.StripWork;
using Acquire.Bench.Books;
using Acquire.Bench.Lots;
using Acquire.Bench.Strips;
using Acquire.Bench.Trust;
using Acquire.Storage.Records;

namespace Acquire.Bench.Readings;

/// <summary>What completed sessions gave, from the store: for whoever watched one that another program led.</summary>
public sealed class KeptBook(AcquireStore store, LotBook lots, TimeProvider time)
{
    /// <summary>What a completed session gave, as its reading would have given it.</summary>
    /// <exception cref="BenchException">It gave nothing.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<KeptReading> OfAsync(StoredSession session, CancellationToken cancellationToken) =>
        session.Purpose switch
        {
            SessionPurpose.Strip => await StripAsync(session, cancellationToken),
            SessionPurpose.Reference => await ReferenceAsync(session, cancellationToken),
            SessionPurpose.Recheck => await new Rechecks(store, lots).ReviewAsync(session.Session.LotCode!, cancellationToken),
            SessionPurpose.Check => (await new CheckBook(store, time).ListAsync(cancellationToken))
                .LastOrDefault(c => c.Check.SessionId == session.Session.Id),
            SessionPurpose.Repeatability => await TestAsync(session, cancellationToken),
            _ => null,
        }

        ?? throw new BenchException($"Session {session.Session.Id} gave no record.");

    private async Task<KeptReading?> StripAsync(StoredSession session, CancellationToken cancellationToken)
    {
        if (await store.StripOfSessionAsync(session.Session.Id, cancellationToken) is not { } id)
        {
            return null;
        }

        var record = await store.GetStripAsync(id.ToString(), cancellationToken);
        var judging = await StripJudging.LoadAsync(store, cancellationToken);
        var lot = (await store.FindLotAsync(record.LotCode, cancellationToken))!;
        var books = await new DarkroomBooks(store, time).OpenAsync(cancellationToken);
        return new KeptStrip(
            record,
            judging.Judge(record),
            await StripTies.OfAsync(store, record, judging, cancellationToken),
            StripContext.Of(books, record, lot, time.LocalTimeZone),
            []);
    }

    private async Task<KeptReading?> ReferenceAsync(StoredSession session, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(session.Session.LotCode!, cancellationToken);
        if (entry.Reference is not { } reference || reference.SessionId != session.Session.Id)
        {
            return null;
        }

        var inForce = new LotPast(entry.Lot, [reference], [], await new RepeatabilityBook(store).InForceAsync(cancellationToken)).Newest;
        return new KeptReference(entry.Lot, reference, inForce.Aims, inForce.Repeatability);
    }

    private async Task<KeptReading?> TestAsync(StoredSession session, CancellationToken cancellationToken)
    {
        var tests = await new RepeatabilityBook(store).ListAsync(cancellationToken);
        if (tests.FirstOrDefault(t => t.Test.SessionId == session.Session.Id) is not { Test: { } test, Report: { } report })
        {
            return null;
        }

        var before = tests.Where(t => t.Test.Provenance.At < test.Provenance.At
            && Keys.Same(t.Test.Provenance.Instrument?.Name, test.Provenance.Instrument?.Name)).MaxBy(t => t.Test.Provenance.At).Report;
        return new KeptTest(test, report, before is null ? null : Analysis.Gauge.RepeatabilityComparison.Of(before, report));
    }
}
