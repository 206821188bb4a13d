using Acquire.Analysis.Plausibility;
using Acquire.Bench.Lots;

namespace Acquire.Bench.Questions;

/// <summary>The lots that had a reference at a moment, with their aims: a strip may be of another one than was said.</summary>
internal sealed class LotsInHouse
{
    private readonly ImmutableArray<(StripLot Lot, ImmutableArray<Aim> Aims)> _lots;

    private LotsInHouse(ImmutableArray<(StripLot Lot, ImmutableArray<Aim> Aims)> lots) => _lots = lots;

    public static LotsInHouse None { get; } = new([]);

    /// <exception cref="StoreException">The store cannot be read.</exception>
    public static async Task<LotsInHouse> LoadAsync(
        AcquireStore store, LotBook lots, DateTimeOffset moment, CancellationToken cancellationToken)
    {
        var found = ImmutableArray.CreateBuilder<(StripLot, ImmutableArray<Aim>)>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            if (await lots.FindPastAsync(lot.Code, cancellationToken) is { } past
                && past.At(moment) is { Reference: { } reference } inForce && reference.Revision.At <= moment)
            {
                found.Add((lot, inForce.Aims));
            }
        }

        return new LotsInHouse(found.ToImmutable());
    }

    /// <summary>Those of one process and the same patches, without the lot itself.</summary>
    public ImmutableArray<OtherLot> Beside(string code, string process, StripLayout layout) =>
    [
        .. _lots
            .Where(l => !Keys.Same(l.Lot.Code, code) && Keys.Same(l.Lot.ProcessKey, process)
                && l.Lot.Layout.Patches.SequenceEqual(layout.Patches))
            .Select(l => new OtherLot(l.Lot.Code, l.Aims)),
    ];
}
