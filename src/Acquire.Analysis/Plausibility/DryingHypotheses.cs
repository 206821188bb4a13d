namespace Acquire.Analysis.Plausibility;

/// <summary>The strip is drying while it is read: the repeats drift, and the patches that were read first are the farthest off.</summary>
internal sealed class DryingHypotheses(StripModel model)
{
    private const double Prior = 0.01;

    // DryingTrend must show in the repeats themselves: patches that are off in the order of reading may be fogged.
    private const double LeastInRepeats = 0;

    /// <summary>The odds of each pace of drying; the data of the patches are weighed with what the repeats tell of its size.</summary>
    public IEnumerable<Hypothesis> Of(ImmutableArray<DryingTrend> drifts) => drifts
        .Where(d => d.LogFactor >= LeastInRepeats)
        .Select(drift => new Hypothesis(
            null,
            SuspicionKind.NotDry,
            Prior / drifts.Length * Math.Exp(Math.Min(drift.LogFactor, 500)),
            [.. model.Slots],
            "The repeats of all patches drift the same way, as those of a wet strip do. Let the strip dry, and read it again?",
            new Remedy.WaitAndDry(),
            data =>
            {
                double[] left = [.. data.Cells.Select(c => drift.Shares.GetValueOrDefault(model.Patches[c.Slot].Key))];
                return Explanation.Reads(data, model, cell => cell) is { } plain
                    ? plain with { Shift = [.. left.Select(l => drift.Size * l)], Errors = [[.. left.Select(l => drift.Uncertainty * l)]] }
                    : null;
            }));

    /// <summary>The odds from the repeats alone, where there are no aims.</summary>
    public static Suspicion? WithoutAims(ImmutableArray<DryingTrend> drifts) => drifts.IsEmpty
        ? null
        : new Suspicion(
            SuspicionKind.NotDry,
            Math.Log(Prior) + Math.Log(drifts.Average(d => Math.Exp(Math.Min(d.LogFactor, 500)))),
            [.. drifts[0].Shares.Keys.Order(StringComparer.Ordinal)],
            [],
            "The repeats of all patches drift the same way, as those of a wet strip do. Let the strip dry, and read it again?",
            new Remedy.WaitAndDry());
}
