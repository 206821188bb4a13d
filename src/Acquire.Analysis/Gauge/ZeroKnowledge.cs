namespace Acquire.Analysis.Gauge;

/// <summary>
/// What is known of how far an instrument's zero moves from one sitting to the next. Nothing known of it is not a zero that stays: without
/// anything else it is assumed to be set anywhere within a width.
/// </summary>
/// <param name="StandardUncertainty">Of the zero of one sitting, in density.</param>
/// <param name="DegreesOfFreedom">How well that is known.</param>
/// <param name="IsAssumed">Whether an assumption still has weight in it.</param>
public sealed record ZeroKnowledge(double StandardUncertainty, double DegreesOfFreedom, bool IsAssumed)
{
    /// <summary>
    /// Readings no farther apart were made at one sitting, with one zero (common practice, no source: an evening's work).
    /// </summary>
    public static readonly TimeSpan Sitting = TimeSpan.FromHours(4);

    /// <summary>Nothing but the assumption.</summary>
    public static ZeroKnowledge Nothing(Assumptions assumptions) =>
        new(assumptions.ZeroUncertainty, assumptions.ZeroFreedom, assumptions.Zero > 0);

    /// <summary>Whether two readings have one zero.</summary>
    public static bool IsOneSitting(DateTimeOffset first, DateTimeOffset second) => (first - second).Duration() <= Sitting;

    /// <summary>What was seen of the zero, pooled with the assumption, whose weight falls as more is seen.</summary>
    public static ZeroKnowledge Of(IReadOnlyCollection<ZeroMove> moves, Assumptions? assumptions = null)
    {
        var assumed = assumptions ?? Assumptions.Default;
        var seen = moves.Sum(m => m.DegreesOfFreedom);
        var weight = assumed.Weight(seen);
        var freedom = seen + (weight * assumed.ZeroFreedom);
        var square = (Math.Max(0, moves.Sum(m => m.DegreesOfFreedom * m.Variance))
            + (weight * assumed.ZeroFreedom * assumed.ZeroUncertainty * assumed.ZeroUncertainty)) / freedom;
        return new ZeroKnowledge(Math.Sqrt(square), freedom, weight > 0 && assumed.Zero > 0);
    }
}

/// <summary>What was seen of the zero between sittings.</summary>
/// <param name="Variance">What it says of the variance of one sitting's zero, in density squared, reading left out; chance may put it below
/// 0.</param>
public readonly record struct ZeroMove(double Variance, double DegreesOfFreedom)
{
    /// <summary>Of one strip or plaque that was read at two sittings: half of what the two differ by, squared, less what reading makes of
    /// it. Null when the readings share no patch.</summary>
    public static ZeroMove? Between(ImmutableArray<PatchMean> first, ImmutableArray<PatchMean> second, InstrumentKnowledge instrument)
    {
        var pairs = (from a in first
                     join b in second on (a.PatchKey.ToUpperInvariant(), a.Channel) equals (b.PatchKey.ToUpperInvariant(), b.Channel)
                     select (a, b)).ToList();
        if (pairs.Count == 0)
        {
            return null;
        }

        var (difference, count) = (pairs.Average(p => p.b.Mean - p.a.Mean), (double)pairs.Count);
        return new ZeroMove(((difference * difference) - (pairs.Sum(p => Noise(p.a) + Noise(p.b)) / (count * count))) / 2, 1);

        double Noise(PatchMean mean) => instrument.At(mean.Channel, mean.Mean).VarianceOfMean(mean.Reads, mean.Resolution);
    }
}
