using Acquire.Analysis.Plausibility;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Readings;

/// <summary>The maker's reference strip of a lot, to be read; its readings become the lot's aims.</summary>
/// <param name="Lot">Code number of the lot.</param>
/// <param name="Reason">Why it is read.</param>
public sealed record ReferenceRequest(string Lot, string Reason);

/// <summary>A reference strip that was read and kept.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="Reference">The reference.</param>
/// <param name="Aims">The aims that follow from it.</param>
/// <param name="Repeatability">The repeatability test that the uncertainties of the aims rest on too; null without one.</param>
public sealed record KeptReference(StripLot Lot, LotReference Reference, ImmutableArray<Aim> Aims, RepeatabilityInForce? Repeatability)
    : KeptReading
{
    public override bool Holds => true;
}

internal sealed class ReferenceReading(AcquireStore store, LotBook lots, TimeProvider time)
    : ReadingPurpose<ReferenceRequest, KeptReference>
{
    private readonly RepeatabilityBook _repeatability = new(store);

    public override SessionPurpose Purpose => SessionPurpose.Reference;

    public override SessionKind Kind => SessionKind.LotReference;

    public override async Task<PlannedReading> PlanAsync(
        ReferenceRequest request, ReadingTerms terms, Action<string> tell, CancellationToken cancellationToken)
    {
        var (lot, sheet, _) = await lots.GetAsync(request.Lot, cancellationToken);
        var plan = terms.PlanFor(Purpose, lot.Layout, sheet.ChannelsNeeded) with { Reason = request.Reason };
        LotExpiry.Tell(lot, time, tell);
        return new PlannedReading(plan, lot.Code);
    }

    /// <summary>The strip makes the aims, so it is held against none.</summary>
    public override async Task<StripKnowledge?> KnowledgeAsync(OpenSession session, CancellationToken cancellationToken) => new(
        (await lots.GetAsync(session.Session.LotCode!, cancellationToken)).Sheet, session.Plan.Layout)
    {
        ReadsPerPlacement = session.Plan.ReadsPerPlacement,
    };

    protected override async Task<Func<StoreTransaction, KeptReference>> KeepAsync(OpenSession session, ImmutableArray<PatchReads> patches)
    {
        var (begun, plan, now) = (session.Session, session.Plan, time.GetUtcNow());
        var reference = new LotReference(
            Guid.CreateVersion7(now),
            begun.LotCode!, patches, begun.Provenance, Revision.First(begun.Provenance.By, now, plan.Reason!), begun.Id);
        var lot = (await store.FindLotAsync(reference.LotCode, CancellationToken.None))!;
        var inForce = new LotPast(lot, [reference], [], await _repeatability.InForceAsync(CancellationToken.None)).Newest;
        return writing =>
        {
            writing.AddReference(reference);
            return new KeptReference(lot, reference, inForce.Aims, inForce.Repeatability);
        };
    }
}
