namespace Acquire.Analysis.Plausibility;

/// <summary>The strip is of another lot than the aims it is compared with.</summary>
internal sealed class LotHypotheses(StripModel model)
{
    private const double KnownPrior = 0.01;
    private const double UnknownPrior = 0.003;

    // Lots of one make differ by some hundredths, patch by patch and colour by colour; common practice, no source.
    private const double Difference = 0.035;

    public IEnumerable<Hypothesis> Of()
    {
        ImmutableArray<int> all = [.. model.Slots];
        foreach (var lot in model.Knowledge.OtherLots)
        {
            yield return new Hypothesis(
                $"lot {lot.Code}",
                SuspicionKind.WrongLot,
                KnownPrior / model.Knowledge.OtherLots.Length,
                all,
                $"This strip fits the aims of lot {lot.Code}. What code number is on it? Judge it by lot {lot.Code}?",
                new Remedy.ChooseLot(lot.Code),
                data => Explanation.Reads(data, model, cell => cell) is { } plain && Shift(data, lot) is { } shift ? plain with { Shift = shift } : null);
        }

        yield return new Hypothesis(
            "lot unknown",
            SuspicionKind.WrongLot,
            UnknownPrior,
            all,
            "The deviations follow no pattern of a process. Is this strip of the lot whose aims are used?",
            new Remedy.ChooseLot(null),
            data => Explanation.Reads(data, model, cell => cell) is { } plain ? plain with { OwnError = Difference } : null);
    }

    private double[]? Shift(StripData data, OtherLot lot)
    {
        var shift = data.Cells.Select(c =>
            StripKnowledge.Find(lot.Aims, model.Patches[c.Slot].Key, c.Channel) is { } other && model.Find(c.Slot, c.Channel) is { } own
                ? other.Value - model.Aims[own]
                : double.NaN).ToArray();
        return shift.Any(double.IsNaN) ? null : shift;
    }
}
