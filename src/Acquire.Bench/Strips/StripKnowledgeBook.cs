using Acquire.Analysis.Plausibility;
using Acquire.Bench.Lots;

namespace Acquire.Bench.Strips;

/// <summary>What a strip is held against while it is read. All of it is as it was when the session began, so that one that goes on later asks the same.</summary>
internal sealed class StripKnowledgeBook(AcquireStore store, LotBook lots)
{
    /// <summary>What is known of a strip.</summary>
    /// <param name="begun">Its session.</param>
    /// <param name="plan">What was settled when it began.</param>
    /// <param name="sheet">The process sheet.</param>
    /// <param name="aims">The aims in force; empty where the strip is to make them.</param>
    /// <param name="inForce">The repeatability test in force; null without one.</param>
    /// <param name="cancellationToken">Cancels.</param>
    public async Task<StripKnowledge> OfAsync(
        BenchSession begun, SessionPlan plan, ProcessSheet sheet, ImmutableArray<Aim> aims, RepeatabilityInForce? inForce, CancellationToken cancellationToken) =>
        new(sheet, plan.Layout)
        {
            Aims = aims,
            Repeatability = inForce is null ? [] : inForce.Channels.ToImmutableDictionary(c => c.Channel, c => c.StandardDeviation),
            OtherLots = aims.IsEmpty ? [] : await OthersAsync(begun, sheet.Key, plan.Layout, cancellationToken),
            ReadsPerPlacement = plan.ReadsPerPlacement,
        };

    private async Task<ImmutableArray<OtherLot>> OthersAsync(BenchSession begun, string process, StripLayout layout, CancellationToken cancellationToken)
    {
        var others = ImmutableArray.CreateBuilder<OtherLot>();
        foreach (var lot in await store.ListLotsAsync(cancellationToken))
        {
            if (!Keys.Same(lot.Code, begun.LotCode) && Keys.Same(lot.ProcessKey, process) && lot.Layout.Patches.SequenceEqual(layout.Patches)
                && await lots.GetAtAsync(lot.Code, begun.Provenance.At, cancellationToken) is { Reference: { } reference } entry
                && reference.Revision.At <= begun.Provenance.At)
            {
                others.Add(new OtherLot(lot.Code, entry.InForce.Aims));
            }
        }

        return others.ToImmutable();
    }
}
