using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Readings;

/// <summary>The reference strip of a lot, to be read again and held against its first reading. The aims stay as they are.</summary>
public sealed record RecheckRequest(string Lot);

internal sealed class RecheckReading(AcquireStore store, LotBook lots, TimeProvider time)
    : ReadingPurpose<RecheckRequest, RecheckReview>
{
    public override SessionPurpose Purpose => SessionPurpose.Recheck;

    public override SessionKind Kind => SessionKind.LotReference;

    public override async Task<PlannedReading> PlanAsync(
        RecheckRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(request.Lot, cancellationToken);
        _ = Rechecks.ReferenceOf(entry);
        return new PlannedReading(terms.PlanFor(Purpose, entry.Lot.Layout, entry.Sheet.ChannelsNeeded), entry.Lot.Code);
    }

    /// <summary>
    /// Held against the reference that was in force when the session began: another may have been read before it was gone on with.
    /// </summary>
    protected override async Task<Func<StoreTransaction, RecheckReview>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches)
    {
        var begun = session.Session;
        var recheck = new ReferenceRecheck(Guid.CreateVersion7(time.GetUtcNow()), begun.LotCode!, patches, begun.Provenance, begun.Id);
        var entry = await lots.GetAtAsync(recheck.LotCode, begun.Provenance.At, CancellationToken.None);
        var review = RecheckReview.Of(
            Rechecks.ReferenceOf(entry), [.. await store.ListRechecksAsync(recheck.LotCode, CancellationToken.None), recheck]);
        return writing =>
        {
            writing.AddRecheck(recheck);
            return review;
        };
    }
}

/// <summary>The rechecks of reference strips that are in the store.</summary>
public sealed class Rechecks(AcquireStore store, LotBook lots)
{
    /// <summary>What those of a lot tell until now.</summary>
    /// <exception cref="BenchException">The lot is unknown or has no reference yet.</exception>
    /// <exception cref="Analysis.Gauge.GaugeException">The reference was not read again yet.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<RecheckReview> ReviewAsync(string lot, CancellationToken cancellationToken)
    {
        var entry = await lots.GetAsync(lot, cancellationToken);
        return RecheckReview.Of(ReferenceOf(entry), await store.ListRechecksAsync(entry.Lot.Code, cancellationToken));
    }

    internal static LotReference ReferenceOf(LotEntry entry) => entry.Reference ?? throw new BenchException(
        $"Lot {entry.Lot.Code} has no reference yet. Read it the first time with: acquire lot reference {entry.Lot.Code} --port PORT "
        + $"--profile PROFILE");
}
