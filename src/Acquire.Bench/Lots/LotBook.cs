using Acquire.Analysis.Judgement;
using Acquire.Bench.Processes;

namespace Acquire.Bench.Lots;

/// <summary>A lot, its process sheet, and the reference in force.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="Sheet">The process sheet that its strips are judged by.</param>
/// <param name="Reference">The reference whose readings make the aims; null until it has been read.</param>
public sealed record LotEntry(StripLot Lot, ProcessSheet Sheet, LotReference? Reference)
{
    /// <summary>The accepted crossover that adjusts the aims of the reference; null when there is none.</summary>
    public AimAdjustment? Adjustment { get; init; }

    /// <summary>The aims in force; none without a reference.</summary>
    /// <param name="inForce">The repeatability test of the instrument; null without one.</param>
    public ImmutableArray<Aim> AimsInForce(RepeatabilityInForce? inForce = null) =>
        Reference is null ? [] : Aims.Of(Lot, Reference, inForce, Adjustment);
}

/// <summary>The lots in the store.</summary>
public sealed class LotBook(AcquireStore store, ProcessLibrary processes, TimeProvider time)
{
    /// <summary>Looks a lot up.</summary>
    /// <exception cref="BenchException">There is no such lot; the message lists those there are.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotEntry> GetAsync(string code, CancellationToken cancellationToken)
    {
        if (await store.FindLotAsync(code, cancellationToken) is { } lot)
        {
            var reference = await store.CurrentReferenceAsync(lot.Code, cancellationToken);
            return new LotEntry(lot, processes.Get(lot.ProcessKey), reference)
            {
                Adjustment = Newest(await store.ListAdjustmentsAsync(lot.Code, cancellationToken), reference),
            };
        }

        var known = (await store.ListLotsAsync(cancellationToken)).Select(l => l.Code).ToList();
        var has = known.Count == 0 ? "the store has none yet" : $"the store has {string.Join(", ", known)}";
        throw new BenchException($"There is no lot {code}; {has}. Add it first: acquire lot add {code} --process c41");
    }

    /// <summary>
    /// Looks a lot up as it stood at a moment: with the reference reading and the crossover that were in force then. Where the lot had no
    /// reference yet, it is the first one after.
    /// </summary>
    /// <exception cref="BenchException">There is no such lot.</exception>
    /// <exception cref="StoreException">The store cannot be read.</exception>
    public async Task<LotEntry> GetAtAsync(string code, DateTimeOffset moment, CancellationToken cancellationToken)
    {
        var entry = await GetAsync(code, cancellationToken);
        var references = await store.ListReferencesAsync(entry.Lot.Code, cancellationToken);
        var adjustments = await store.ListAdjustmentsAsync(entry.Lot.Code, cancellationToken);
        var reference = references.LastOrDefault(r => r.Revision.At <= moment) ?? (references.Count > 0 ? references[0] : null);
        return entry with { Reference = reference, Adjustment = Newest([.. adjustments.Where(a => a.At <= moment)], reference) };
    }

    /// <summary>Keeps a reference whose densities a person entered.</summary>
    /// <exception cref="BenchException">The lot is unknown, or a patch or channel that the process needs is missing.</exception>
    /// <exception cref="StoreException">The store cannot be used.</exception>
    public async Task<LotReference> EnterReferenceAsync(
        string lotCode, ImmutableArray<EnteredDensities> entered, string by, string reason, CancellationToken cancellationToken)
    {
        var (lot, sheet, _) = await GetAsync(lotCode, cancellationToken);
        var now = time.GetUtcNow();
        var patches = EnteredDensities.ToPatches(entered, lot.Layout, sheet.ChannelsNeeded, now);
        var reference = new LotReference(
            Guid.CreateVersion7(now), lot.Code, patches, new Provenance(now, by, null), Revision.First(by, now, reason));
        await store.AddReferenceAsync(reference, cancellationToken);
        return reference;
    }

    private static AimAdjustment? Newest(IReadOnlyList<AimAdjustment> adjustments, LotReference? reference) =>
        adjustments.LastOrDefault(a => a.ReferenceId == reference?.Id);
}
