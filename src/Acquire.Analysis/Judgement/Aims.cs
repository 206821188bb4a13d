using Acquire.Analysis.Gauge;

namespace Acquire.Analysis.Judgement;

/// <summary>The aims of a strip lot.</summary>
public static class Aims
{
    /// <summary>Aim = mean of the reference strip's reads + signed correction factor of the code number (US Navy
    /// <i>Photography (Advanced)</i>; US Army SS0514). Its uncertainty is that of the reference mean by
    /// what is known of the instrument; what was entered without a word of how it was read counts as read once.</summary>
    /// <param name="lot">The lot, with its layout and correction factors.</param>
    /// <param name="reference">The readings of its reference strip.</param>
    /// <param name="inForce">The repeatability test of the instrument, which adds to
    /// what the reference's own repeats tell; null without one.</param>
    /// <param name="assumptions">What is taken for granted where nothing is known; null for the usual.</param>
    /// <param name="adjustment">An accepted crossover; it counts only when it was made for this very reference. Null without one.</param>
    /// <returns>One aim for each patch and channel of the reference that has a read which counts, in the reference's order.</returns>
    /// <exception cref="ImpossibleValueException">The reference is another lot's, or has a patch that the lot's layout lacks.</exception>
    public static ImmutableArray<Aim> Of(
        StripLot lot, LotReference reference, RepeatabilityInForce? inForce = null, AimAdjustment? adjustment = null,
        Assumptions? assumptions = null)
    {
        if (!Keys.Same(lot.Code, reference.LotCode))
        {
            throw new ImpossibleValueException(
                $"The reference strip is of lot {reference.LotCode}, so it makes no aims for lot {lot.Code}.");
        }

        var means = PatchMeans.Of(reference.Patches);
        var known = InstrumentKnowledge.Of(
            reference.InstrumentName ?? "",
            PatchRepeats.Of(means).Concat(PatchRepeats.Of(reference.InstrumentName is null ? null : inForce)),
            assumptions);
        var errors = AimKnowledge.Of(reference, known);
        return
        [
            .. from mean in means
               let key = lot.Layout.GetByKey(mean.PatchKey).Key
               let moved = adjustment?.ReferenceId == reference.Id ? adjustment.Of(key, mean.Channel) : null
               select new Aim(
                   key, mean.Channel, mean.Mean, lot.Correction(key, mean.Channel),
                   moved?.StandardUncertainty ?? errors.UncertaintyOf(mean.PatchKey, mean.Channel)!.Value) { Adjustment =
                       moved?.Value ?? 0 },
        ];
    }
}
