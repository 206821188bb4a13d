using Acquire.Analysis.Plausibility;
using Acquire.Analysis.StripWork;
using Acquire.Bench.Lots;
using Acquire.Bench.Questions;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;

namespace Acquire.Bench.Readings;

/// <summary>The maker's reference strip of a lot, to be read; its readings become the lot's aims.</summary>
/// <param name="Lot">Code number of the lot.</param>
/// <param name="Reason">Why it is read.</param>
public sealed record ReferenceRequest(string Lot, string Reason)
{
    /// <summary>How entered values came about; null where nobody says, and for a strip that is read.</summary>
    public ReferenceOrigin? Origin { get; init; }
}

/// <summary>A reference strip that was read and kept.</summary>
/// <param name="Repeatability">The repeatability test that the uncertainties of the aims rest on too; null without one.</param>
public sealed record KeptReference(StripLot Lot, LotReference Reference, ImmutableArray<Aim> Aims, RepeatabilityInForce? Repeatability)
    : KeptReading
{
    /// <summary>What its values give cause to ask, where nobody was asked while it was read; null for nothing.</summary>
    public AskedQuestion? Question { get; init; }

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
        var inForce = new LotPast(
            lot, [reference], [], await _repeatability.InForceAsync(CancellationToken.None), Settings.Of(store).Assumptions()).Newest;
        return writing =>
        {
            writing.AddReference(reference);
            return new KeptReference(lot, reference, inForce.Aims, inForce.Repeatability);
        };
    }
}

/// <summary>References whose densities a person types.</summary>
public sealed class ReferenceEntry(AcquireStore store, LotBook lots, TimeProvider time)
{
    /// <summary>Keeps the densities as the reference of a lot, and gives the aims that follow from it.</summary>
    /// <param name="values">Densities a patch each, <c>"PATCH R G B"</c>, in the channels that the process needs.</param>
    /// <exception cref="BenchException">The lot is unknown, a value cannot be read, or a patch is missing.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<KeptReference> EnterAsync(
        ReferenceRequest request, IEnumerable<string> values, string by, CancellationToken cancellationToken)
    {
        var (lot, sheet, _) = await lots.GetAsync(request.Lot, cancellationToken);
        var reference = await lots.EnterReferenceAsync(
            lot.Code, [.. values.Select(v => PatchValues.Densities(v, lot.Layout, sheet))], by, request.Reason, cancellationToken,
            request.Origin);
        return new KeptReference(lot, reference, (await lots.GetAsync(lot.Code, cancellationToken)).InForce.Aims, null)
        {
            Question = (await WholeStripQuestions.LoadAsync(store, lots, time, cancellationToken))
                .OfReference(reference, lot.Layout, sheet),
        };
    }
}

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
        $"Lot {entry.Lot.Code} has no reference yet. Read it the first time with: "
        + $"acquire lot reference {entry.Lot.Code} --instrument NAME");
}

/// <summary>
/// What is told before a strip of a lot is read that expires soon or has expired; reading goes on, since the user may want to know how
/// the strips have kept.
/// </summary>
internal static class LotExpiry
{
    /// <summary>How long before a lot expires the user is told to run the crossover (common practice, no source).</summary>
    private const int CrossoverDays = 30;

    public static void Tell(StripLot lot, TimeProvider time, Action<string> tell)
    {
        if (lot.Expires is not { } expires)
        {
            return;
        }

        var last = Numbers.Day(expires);
        var today = DateOnly.FromDateTime(time.GetLocalNow().DateTime);
        var days = expires.DayNumber - today.DayNumber;
        if (lot.IsExpiredOn(today))
        {
            tell($"Lot {lot.Code} expired on {last}: old strips read high in D-min and low in LD. Do not blame the process for that.");
        }
        else if (days <= CrossoverDays)
        {
            var left = days == 0 ? "today" : $"in {Numbers.Count(days, "day")}";
            tell($"Lot {lot.Code} expires on {last}, {left}. Run the crossover to the next "
                + $"lot while strips are left: acquire lot crossover {lot.Code} NEXT");
        }
    }
}
