using Acquire.Analysis.StripWork;
using Acquire.Storage.Records;

namespace Acquire.Bench.Lots;

/// <summary>The change from one lot to the next, to be looked at and perhaps accepted.</summary>
/// <param name="Old">Code number of the old lot.</param>
/// <param name="New">Code number of the new lot.</param>
/// <param name="Pairs">Pairs beside those that strips name themselves, old strip first; ids or parts of them.</param>
/// <param name="By">Who asks.</param>
/// <param name="AcceptedFor">Why its proposal is accepted; null where it is only looked at.</param>
public sealed record CrossoverRequest(
    string Old, string New, ImmutableArray<(string Old, string New)> Pairs, string By, string? AcceptedFor = null);

/// <summary>What a crossover tells, and what it changed.</summary>
/// <param name="InForce">The adjustment in force of the new lot's aims; null where there is none.</param>
/// <param name="IsAccepted">Whether it was accepted just now.</param>
public sealed record CrossoverResult(Crossover Crossover, AimAdjustment? InForce, bool IsAccepted)
{
    /// <summary>Whether what is in force rests on exactly these pairs.</summary>
    public bool IsInForce => InForce is not null && LotCrossover.IsOf(InForce, Crossover);
}

/// <summary>The change from one lot to the next.</summary>
public sealed class LotCrossover(AcquireStore store, LotBook lots, TimeProvider time)
{
    /// <summary>Compares two lots, and keeps the proposal where it is accepted.</summary>
    /// <exception cref="BenchException">They cannot be compared, or there is nothing to accept.</exception>
    /// <exception cref="StoreException">The store cannot be used, or a part of an id fits more than one strip.</exception>
    public async Task<CrossoverResult> RunAsync(CrossoverRequest request, CancellationToken cancellationToken)
    {
        var crossover = await CompareAsync(request.Old, request.New, request.Pairs, cancellationToken);
        return request.AcceptedFor is { } reason
            ? new CrossoverResult(crossover, await AcceptAsync(crossover, request.By, reason, cancellationToken), true)
            : new CrossoverResult(crossover, (await lots.GetAsync(crossover.NewLot, cancellationToken)).InForce.Adjustment, false);
    }

    /// <summary>Compares the pairs of two lots. It changes nothing.</summary>
    /// <param name="oldCode">Code number of the old lot.</param>
    /// <param name="newCode">Code number of the new lot.</param>
    /// <param name="given">Pairs beside those that strips name themselves, old strip first; ids or parts of them.</param>
    /// <exception cref="BenchException">A lot is unknown or has no reference, the lots are one, or a pair is none.</exception>
    /// <exception cref="StoreException">The store cannot be read, or a part of an id fits more than one strip.</exception>
    public async Task<Crossover> CompareAsync(
        string oldCode, string newCode, ImmutableArray<(string Old, string New)> given, CancellationToken cancellationToken)
    {
        var (old, _, _) = await lots.GetAsync(oldCode, cancellationToken);
        var entry = await lots.GetAsync(newCode, cancellationToken);
        if (entry.Reference is null)
        {
            throw new BenchException(
                $"Lot {entry.Lot.Code} has no reference yet. Its own aims come first: "
                + $"acquire lot reference {entry.Lot.Code} --instrument NAME");
        }

        if (Keys.Same(old.Code, entry.Lot.Code))
        {
            throw new BenchException("A crossover goes from one lot to another; both codes are the same.");
        }

        // Strips that name each other are pairs without being asked; the user's own are added, and none may stand in two.
        var pairs = await NamedAsync(old.Code, entry.Lot.Code, cancellationToken);
        foreach (var (one, other) in given)
        {
            pairs.Add((await FindAsync(one, old.Code, cancellationToken), await FindAsync(other, entry.Lot.Code, cancellationToken)));
        }

        ImmutableArray<(StripRecord Old, StripRecord New)> distinct = [.. pairs.DistinctBy(p => (p.Old.Id, p.New.Id))];
        if (distinct.SelectMany(p => new[] { p.Old.Id, p.New.Id }).GroupBy(id => id).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(twice.Key)} stands in two pairs. A pair is two strips that were processed together.");
        }

        if (distinct.FirstOrDefault(p => p.Old.Aims.IsEmpty).Old is { } blind)
        {
            throw new BenchException(
                $"Strip {StripId.ShortForm(blind.Id)} of the old lot was read without aims, so it has no deviation to compare.");
        }

        return Crossover.Of(old.Code, entry.Lot.Code, distinct, entry.InForce.Aims);
    }

    /// <summary>Whether an adjustment rests on exactly the pairs of a crossover.</summary>
    internal static bool IsOf(AimAdjustment adjustment, Crossover crossover) => adjustment.Pairs.ToHashSet().SetEquals(Pairs(crossover));

    /// <summary>
    /// Keeps the proposal of a crossover: the aims of the new lot are adjusted by it from now on. Strips read before keep theirs.
    /// </summary>
    /// <exception cref="BenchException">There are too few pairs, old and new agree, or these pairs were accepted already.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<AimAdjustment> AcceptAsync(Crossover crossover, string by, string reason, CancellationToken cancellationToken)
    {
        if (!crossover.IsEnough)
        {
            throw new BenchException($"Nothing was accepted: {crossover.Words()}");
        }

        if (crossover.Agrees)
        {
            throw new BenchException($"There is nothing to adjust: {crossover.Words()}");
        }

        var reference = (await lots.GetAsync(crossover.NewLot, cancellationToken)).Reference!;
        var now = time.GetUtcNow();
        var adjustment = new AimAdjustment(
            Guid.CreateVersion7(now),
            crossover.NewLot, reference.Id, crossover.OldLot, crossover.Proposal, Pairs(crossover), by, now, reason);

        // Looked at again inside the transaction: two programs that accept the same pairs would move the aims twice.
        return await store.InTransactionAsync(
            writing =>
            {
                if (writing.ListAdjustments(crossover.NewLot).LastOrDefault(a => a.ReferenceId == reference.Id) is { } inForce
                    && IsOf(inForce, crossover))
                {
                    throw new BenchException(
                        $"These pairs were accepted already, by {inForce.By} on "
                        + $"{Numbers.Day(inForce.At.ToUniversalTime())}: {inForce.Reason}.");
                }

                writing.AddAdjustment(adjustment);
                return adjustment;
            },
            cancellationToken);
    }

    private static ImmutableArray<StripPair> Pairs(Crossover crossover) =>
        [.. crossover.Pairs.Select(p => new StripPair(p.Old.Id, p.New.Id))];

    /// <summary>The pairs that strips name themselves, from either side.</summary>
    private async Task<List<(StripRecord Old, StripRecord New)>> NamedAsync(string old, string young, CancellationToken cancellationToken)
    {
        var ofOld = await store.ListStripsAsync(StripFilter.All with { LotCode = old }, cancellationToken)
            .ToDictionaryAsync(s => s.Id, cancellationToken: cancellationToken);
        var ofNew = await store.ListStripsAsync(StripFilter.All with { LotCode = young }, cancellationToken)
            .ToDictionaryAsync(s => s.Id, cancellationToken: cancellationToken);
        return
        [
            .. from s in ofNew.Values where s.Tags.PairedWith is { } o && ofOld.ContainsKey(o) select (ofOld[s.Tags.PairedWith!.Value], s),
            .. from s in ofOld.Values where s.Tags.PairedWith is { } n && ofNew.ContainsKey(n) select (s, ofNew[s.Tags.PairedWith!.Value]),
        ];
    }

    private async Task<StripRecord> FindAsync(string id, string lot, CancellationToken cancellationToken)
    {
        var strip = await store.GetStripAsync(id, cancellationToken);
        return Keys.Same(strip.LotCode, lot)
            ? strip
            : throw new BenchException(
                $"Strip {id} is of lot {strip.LotCode}, not {lot}. Give pairs as OLD:NEW, the strip of the old lot first.");
    }
}
