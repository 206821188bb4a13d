using Acquire.Analysis.Gauge;
using Acquire.Analysis.Judgement;
using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.StripWork;

/// <summary>The change to a new code number: strips of the old and the new lot processed together, at least three
/// separate times. The new aims are not forced to equal the old ones, and the process is not changed to suit (US
/// Navy <i>Photography (Advanced)</i>; US Army SS0514).</summary>
/// <param name="OldLot">Code number of the old lot.</param>
/// <param name="NewLot">Code number of the new lot.</param>
/// <param name="Pairs">The pairs, in the order of reading.</param>
/// <param name="Rows">Patch by patch, channel by channel.</param>
public sealed record Crossover(
    string OldLot, string NewLot, ImmutableArray<(StripRecord Old, StripRecord New)> Pairs, ImmutableArray<CrossoverRow> Rows)
{
    /// <summary>The fewest pairs that an adjustment may rest on (the same manuals).</summary>
    public const int FewestPairs = 3;

    /// <summary>How far old and new deviations may differ on average and still agree, in
    /// density (common practice, no source: 0.02 to 0.03).</summary>
    public const double Agreement = 0.03;

    /// <summary>Whether every patch and channel has pairs enough.</summary>
    public bool IsEnough => !Rows.IsEmpty && Rows.All(r => r.Differences.Length >= FewestPairs);

    /// <summary>Whether old and new agree in every patch and channel, so that the new lot's own aims can stand.</summary>
    public bool Agrees => Rows.All(r => r.Agrees);

    /// <summary>Compares the deviations. The old strip's is from the aims that it was judged by; the new strip's is
    /// from the new lot's own aims, without any adjustment.</summary>
    /// <param name="oldLot">Code number of the old lot.</param>
    /// <param name="newLot">Code number of the new lot.</param>
    /// <param name="pairs">A strip of each lot, processed together.</param>
    /// <param name="newAims">Aims of the new lot, of which only reference and correction factor count.</param>
    public static Crossover Of(
        string oldLot, string newLot, IEnumerable<(StripRecord Old, StripRecord New)> pairs, ImmutableArray<Aim> newAims)
    {
        ImmutableArray<(StripRecord Old, StripRecord New)> sorted = [.. pairs.OrderBy(p => p.New.Provenance.At)];
        return new Crossover(
            oldLot, newLot, sorted, [.. newAims.Select(a => CrossoverRow.Of(a, sorted)).Where(r => !r.Differences.IsEmpty)]);
    }

    /// <summary>The aims as the pairs would have them: new aim = average reading of the new strips − average deviation of the old
    /// ones. They are a proposal; nothing is changed by it.</summary>
    public ImmutableArray<AdjustedAim> Proposal =>
        [.. Rows.Select(r => new AdjustedAim(r.Aim.PatchKey, r.Aim.Channel, r.Average, r.AdjustedUncertainty))];

    /// <summary>What the pairs say, for the user.</summary>
    public string Words() => (Pairs.Length, IsEnough, Agrees) switch
    {
        (0, _, _) =>
            $"No pairs yet. Process a strip of lot {OldLot} and one of lot {NewLot} together, at least three separate times, and tell "
            + "the pair with --pair.",
        (var n, false, _) =>
            $"{n} of {FewestPairs} pairs at least: too few to judge the crossover. What there is so far is shown; it decides nothing.",
        (_, _, true) =>
            $"Old and new agree within {Agreement} on average in every patch and colour: the aims of lot {NewLot} can stand as they are.",
        _ =>
            $"Old and new differ by more than {Agreement} on average in "
            + $"{string.Join(", ", Rows.Where(r => !r.Agrees).Select(r => r.Name))}. "
            + "The adjusted aims are a proposal. Check reference reading, correction factors and expiry of both lots before you accept it: "
            + "a crossover adapts the numbers, not the process.",
    };
}

/// <summary>A reference of the user's own where the maker gives none: one strip on each of five consecutive days of a process known to be
/// right, averaged (a film maker's published radiographic quality-control procedure).</summary>
public static class OwnReference
{
    /// <summary>How many strips it takes.</summary>
    public const int Strips = 5;

    /// <summary>Decimals that a strip's mean is kept with: far below any display, so that rounding adds nothing.</summary>
    private const int Decimals = 4;

    /// <summary>The reads of such a reference: of each patch one for each strip, its mean. Their scatter is then that from strip to strip,
    /// which is what the average of strips is uncertain by; the single reads of one strip would make it look better than it is.</summary>
    /// <param name="strips">The strips, all of one layout.</param>
    /// <returns>The patches in the layout's order; a strip whose patch has no mean gives no read there.</returns>
    public static ImmutableArray<PatchReads> Of(IReadOnlyList<StripRecord> strips)
    {
        return [.. strips[0].Layout.Patches.Select(p => new PatchReads(p, [.. strips.Select(s => Read(s, p.Key)).OfType<PatchRead>()]))];
    }

    private static PatchRead? Read(StripRecord strip, string key)
    {
        Density? Mean(Channel channel) =>
            strip.Mean(key, channel) is { } mean
                ? new Density(decimal.Round((decimal)mean.Mean, Decimals) + new decimal(0, 0, 0, false, Decimals))
                : null;

        var (red, green, blue, visual) = (Mean(Channel.Red), Mean(Channel.Green), Mean(Channel.Blue), Mean(Channel.Visual));
        return red is null && green is null && blue is null && visual is null
            ? null
            : new PatchRead(Reading.Entered(new ChannelDensities(red, green, blue, visual), strip.Provenance.At));
    }
}

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

    /// <summary>Standard uncertainty of the average from pair to pair: s/√n. Few pairs can agree by chance, so s is
    /// not taken for less than the readings alone make it.</summary>
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

    /// <summary>The aim as the pairs would have it, in density: the new reference and correction, moved by the average.</summary>
    public double AdjustedAim => Aim.Reference + Aim.Correction + Average;

    /// <summary>Standard uncertainty of the adjusted aim: that of the average, and that of the old aim, which it carries on. The new
    /// reference drops out of it: what its reading was wrong by, the adjustment takes away.</summary>
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
            Comparison.Clean(oldMean.Mean - oldAim.Value), Comparison.Clean(newMean.Mean - (aim.Reference + aim.Correction)),
            Math.Sqrt((one * one) + (other * other)));
        return (difference, oldAim.StandardUncertainty);
    }

    private static double Uncertainty(StripRecord strip, Domain.Strips.PatchMean mean) =>
        MeanUncertainty.Of(mean, InstrumentKnowledge.Of(strip).At(mean.Channel, mean.Mean)).StandardUncertainty;
}
