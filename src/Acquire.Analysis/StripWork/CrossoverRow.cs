using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.StripWork;

/// <summary>The deviations of one pair in one patch and channel, in density.</summary>
/// <param name="Old">The old strip's, from the aim it was judged by.</param>
/// <param name="New">The new strip's, from the new lot's own aim.</param>
/// <param name="ReadingUncertainty">Standard uncertainty of the two readings together.</param>
public readonly record struct CrossoverDifference(double Old, double New, double ReadingUncertainty)
{
    /// <summary>New minus old.</summary>
    public double Difference => New - Old;
}

/// <summary>One patch and channel over all pairs. All numbers are densities.</summary>
/// <param name="Aim">The new lot's aim; of an adjustment in force nothing is counted.</param>
/// <param name="Differences">Pair by pair; a pair that lacks the patch is left out.</param>
/// <param name="OldAimUncertainty">Standard uncertainty of the old lot's aim.</param>
public sealed record CrossoverRow(Aim Aim, ImmutableArray<CrossoverDifference> Differences, double OldAimUncertainty)
{
    /// <summary>Patch and channel in a word.</summary>
    public string Name => $"{Aim.PatchKey} {Aim.Channel.Word()}";

    /// <summary>Average of new minus old deviation.</summary>
    public double Average => Differences.Average(d => d.Difference);

    /// <summary>Standard deviation of the differences from pair to pair; null with one pair.</summary>
    public double? Scatter => Summary.Of([.. Differences.Select(d => d.Difference)]).StandardDeviation;

    /// <summary>
    /// Standard uncertainty of the average from pair to pair: s/√n. Few pairs can agree by chance, so s is not taken for less than the
    /// readings alone make it.
    /// </summary>
    public double PairUncertainty
    {
        get
        {
            var reading = Math.Sqrt(Differences.Average(d => d.ReadingUncertainty * d.ReadingUncertainty));
            return Math.Max(Scatter ?? 0, reading) / Math.Sqrt(Differences.Length);
        }
    }

    /// <summary>Half the 95 % interval of the average, Student's t at n − 1 degrees of freedom; null with one pair.</summary>
    public double? HalfInterval => Differences.Length > 1 ? Quantiles.Student(0.975, Differences.Length - 1) * PairUncertainty : null;

    /// <summary>The aim as the pairs would have it.</summary>
    public double AdjustedAim => Aim.Reference + Aim.Correction + Average;

    /// <summary>
    /// Standard uncertainty of the adjusted aim: that of the average, and that of the old aim, which it carries on. The new reference drops
    /// out of it: what its reading was wrong by, the adjustment takes away.
    /// </summary>
    public double AdjustedUncertainty => Math.Sqrt((PairUncertainty * PairUncertainty) + (OldAimUncertainty * OldAimUncertainty));

    /// <summary>Whether old and new agree on average.</summary>
    public bool Agrees => Math.Abs(Average) <= Crossover.Agreement + 1e-9;

    internal static CrossoverRow Of(Aim aim, ImmutableArray<(StripRecord Old, StripRecord New)> pairs)
    {
        ImmutableArray<(CrossoverDifference Difference, double OldAim)?> found = [.. pairs.Select(p => Of(aim, p.Old, p.New))];
        ImmutableArray<(CrossoverDifference Difference, double OldAim)> known = [.. found.OfType<(CrossoverDifference, double)>()];
        return new CrossoverRow(
            aim, [.. known.Select(k => k.Difference)], known.IsEmpty ? 0 : Math.Sqrt(known.Average(k => k.OldAim * k.OldAim)));
    }

    private static (CrossoverDifference Difference, double OldAim)? Of(Aim aim, StripRecord old, StripRecord young)
    {
        if (old.Mean(aim.PatchKey, aim.Channel) is not { } oldMean
            || old.Aim(aim.PatchKey, aim.Channel) is not { } oldAim
            || young.Mean(aim.PatchKey, aim.Channel) is not { } newMean)
        {
            return null;
        }

        var (one, other) = (Uncertainty(old, oldMean), Uncertainty(young, newMean));
        var difference = new CrossoverDifference(
            Comparison.Clean(oldMean.Mean - oldAim.Value),
            Comparison.Clean(newMean.Mean - (aim.Reference + aim.Correction)),
            Math.Sqrt((one * one) + (other * other)));
        return (difference, oldAim.StandardUncertainty);
    }

    private static double Uncertainty(StripRecord strip, Domain.Strips.PatchMean mean) => MeanUncertainty.Of(
        mean, Repeatability.Of(strip.Means, strip.Repeatability).GetValueOrNull(mean.Channel)).StandardUncertainty;
}
