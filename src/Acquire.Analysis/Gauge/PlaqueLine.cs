using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>
/// Zero and slope of the readings of a plaque, with 95 % intervals that hold all that is known: the scatter of the reads, the display step where
/// it hides the scatter, and the certificate (GUM, JCGM 100:2008, 5.1.2 and G.4.1).
/// </summary>
/// <remarks>
/// A certificate does not say how the errors of its patches hang together. Errors of their own average out in the zero, an error that all share
/// does not; the larger of the two is counted. Where the readings lie farther from the line than their uncertainties explain (χ² at 5 %), or
/// nothing is known of the scatter, the distances from the line themselves make the interval when that is the wider one.
/// </remarks>
internal sealed record PlaqueLine(Adjustment Zero, Adjustment Slope, bool IsBent)
{
    /// <returns>The line; null with fewer than three patches.</returns>
    public static PlaqueLine? Of(PlaqueReads reads)
    {
        var known = reads.Deviation is not null;
        ImmutableArray<double> u = [.. reads.Patches.Select(p => known ? Math.Sqrt(reads.VarianceOf(p)) : 1)];
        if (WeightedLine.Of([.. reads.Patches.Select((p, i) => ((double)p.Density, p.Reads.Mean, u[i]))]) is not { } line)
        {
            return null;
        }

        var bent = known && line.ChiSquare > Quantiles.ChiSquare(0.95, line.DegreesOfFreedom);
        return new PlaqueLine(About(line.Zero, line.ZeroFactors), About(line.Slope, line.SlopeFactors), bent);

        Adjustment About(double value, ImmutableArray<double> factors)
        {
            var (scatter, other) = Variances(reads, factors);
            var margin = Quantiles.Student(0.975, reads.EffectiveFreedom(scatter, other)) * Math.Sqrt(scatter + other);
            var shown = bent || !known
                ? Quantiles.Student(0.975, line.DegreesOfFreedom)
                    * Math.Sqrt(factors.Select((f, i) => f * f * u[i] * u[i]).Sum() * line.ChiSquare / line.DegreesOfFreedom)
                : 0;
            return Adjustment.About(value, Math.Max(margin, shown));
        }
    }

    private static (double Scatter, double Other) Variances(PlaqueReads reads, ImmutableArray<double> factors)
    {
        var (scatter, step, own, shared) = (0.0, 0.0, 0.0, 0.0);
        for (var i = 0; i < factors.Length; i++)
        {
            var (factor, certificate) = (factors[i], reads.Patches[i].Certified.StandardUncertainty);
            scatter += factor * factor * reads.ScatterOf(reads.Patches[i]);
            step += factor * factor * reads.Rounding;
            own += factor * factor * certificate * certificate;
            shared += factor * certificate;
        }

        return (scatter, step + Math.Max(own, shared * shared));
    }
}
