using System.Collections.Immutable;
using Acquire.Bench.Processes;
using Acquire.Domain.Lots;
using Acquire.Domain.Processes;
using Acquire.Domain.Records;
using Acquire.Storage;

namespace Acquire.Bench.Lots;

/// <summary>A lot, its process sheet, and the reference in force.</summary>
/// <param name="Lot">The lot.</param>
/// <param name="Sheet">The process sheet that its strips are judged by.</param>
/// <param name="Reference">The reference whose readings make the aims; null until it has been read.</param>
public sealed record LotEntry(StripLot Lot, ProcessSheet Sheet, LotReference? Reference);

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
            return new LotEntry(lot, processes.Get(lot.ProcessKey), reference);
        }

        var known = (await store.ListLotsAsync(cancellationToken)).Select(l => l.Code).ToList();
        var has = known.Count == 0 ? "the store has none yet" : $"the store has {string.Join(", ", known)}";
        throw new BenchException($"There is no lot {code}; {has}. Add it first: acquire lot add {code} --process c41");
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
}
