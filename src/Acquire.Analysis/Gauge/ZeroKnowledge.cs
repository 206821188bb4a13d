using Acquire.Analysis.Statistics;

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

    /// <summary>
    /// What was seen of the zero, pooled with the assumption, whose weight falls as more is seen; but no more than the thinnest patch of the
    /// strips scattered by, whose scatter holds the zero and everything else (95 % upper limit of its variance by χ²).
    /// </summary>
    /// <param name="moves">One thing read at two sittings each.</param>
    /// <param name="thinnest">Scatter of the thinnest patch's deviation over the days of a history; null without one.</param>
    public static ZeroKnowledge Of(IReadOnlyCollection<ZeroMove> moves, PooledDeviation? thinnest, Assumptions? assumptions = null)
    {
        var assumed = assumptions ?? Assumptions.Default;
        var (weight, seen) = (assumed.Weight(moves.Count), Math.Max(0, moves.Sum(m => m.Variance)));
        var freedom = moves.Count + (weight * assumed.ZeroFreedom);
        var square = (seen + (weight * assumed.ZeroFreedom * assumed.ZeroUncertainty * assumed.ZeroUncertainty)) / freedom;
        if (thinnest is { DegreesOfFreedom: >= 1 } scatter)
        {
            var most = scatter.StandardDeviation * scatter.StandardDeviation * scatter.DegreesOfFreedom
                / Quantiles.ChiSquare(0.05, scatter.DegreesOfFreedom);
            // Bounded by what was seen, it is no assumption any more.
            if (most < square)
            {
                return new ZeroKnowledge(Math.Sqrt(most), Math.Max(freedom, scatter.DegreesOfFreedom), false);
            }
        }

        return new ZeroKnowledge(Math.Sqrt(square), freedom, weight > 0 && assumed.Zero > 0);
    }
}

/// <summary>How far the readings of one thing lie apart at two sittings, over its patches and channels.</summary>
/// <param name="Difference">Mean of the differences, in density.</param>
/// <param name="NoiseVariance">What reading alone makes of its square.</param>
public readonly record struct ZeroMove(double Difference, double NoiseVariance)
{
    /// <summary>What it says of the variance of one sitting's zero: half of what the two differ by, reading left out.</summary>
    public double Variance => ((Difference * Difference) - NoiseVariance) / 2;

    /// <summary>Of one strip or plaque that was read at two sittings; null when the readings share no patch.</summary>
    public static ZeroMove? Between(ImmutableArray<PatchMean> first, ImmutableArray<PatchMean> second, InstrumentKnowledge instrument)
    {
        var pairs = (from a in first
                     join b in second on (a.PatchKey.ToUpperInvariant(), a.Channel) equals (b.PatchKey.ToUpperInvariant(), b.Channel)
                     select (a, b)).ToList();
        return pairs.Count == 0
            ? null
            : new ZeroMove(
                pairs.Average(p => p.b.Mean - p.a.Mean),
                pairs.Sum(p => Noise(p.a) + Noise(p.b)) / ((double)pairs.Count * pairs.Count));

        double Noise(PatchMean mean) =>
            Math.Pow(instrument.At(mean.Channel, mean.Mean).StandardDeviation, 2) / mean.Reads + (mean.Resolution * mean.Resolution / 12);
    }
}
