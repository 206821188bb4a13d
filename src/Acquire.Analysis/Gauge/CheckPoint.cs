using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>One occasion against the limits.</summary>
/// <param name="Occasion">The occasion.</param>
/// <param name="MeanOutside">Whether its mean is outside the control limits: the instrument, or the reference itself, has moved.</param>
/// <param name="ScatterLimit">
/// Upper limit of its short-term standard deviation, s₁ · √F(0.95; n − 1, Σν); null without one.
/// </param>
/// <param name="ScatterOutside">Whether its reads scatter more than that: handling, dust, a restless lamp.</param>
public sealed record CheckPoint(CheckOccasion Occasion, bool MeanOutside, double? ScatterLimit, bool ScatterOutside)
{
    // A mean of decimals this close to a limit is on it, and on it is inside.
    private const double Hair = 1e-9;

    internal static CheckPoint Of(CheckOccasion occasion, double centre, double margin, PooledDeviation? shortTerm)
    {
        double? limit = shortTerm is { } s && occasion.Reads > 1
            ? s.StandardDeviation * Math.Sqrt(Quantiles.Fisher(0.95, occasion.Reads - 1, s.DegreesOfFreedom))
            : null;
        return new CheckPoint(
            occasion,
            Math.Abs(occasion.Mean - centre) > margin + Hair,
            limit,
            limit is { } most && occasion.StandardDeviation > most + Hair);
    }
}
