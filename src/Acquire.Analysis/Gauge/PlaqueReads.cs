using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>The reads of the certified patches in one channel, with the scatter they share.</summary>
internal sealed record PlaqueReads(Channel Channel, ImmutableArray<CertifiedReads> Patches, PooledDeviation? Deviation, double Step)
{
    public static PlaqueReads Of(
        Plaque plaque, RepeatabilityData data, Channel channel, IReadOnlyDictionary<Channel, PooledDeviation>? known)
    {
        ImmutableArray<CertifiedReads> patches =
        [
            .. from patch in plaque.Patches
               let certified = patch.Certified[channel]
               let reads = data.Of(patch.Patch.Key, channel)
               where certified is not null && !reads.IsEmpty
               select new CertifiedReads(patch, certified.Value.Value, Summary.Of([.. reads.Select(r => (double)r.Values[channel])])),
        ];
        var before = known is not null && known.TryGetValue(channel, out var told) ? told : new PooledDeviation(0, 0);
        var deviation = PooledDeviation.Of(
            patches.Select(p => (p.Reads.StandardDeviation ?? 0, p.Reads.Count - 1)).Append(
                (before.StandardDeviation, before.DegreesOfFreedom)));
        return new PlaqueReads(channel, patches, deviation, data.StepOf(channel));
    }

    /// <summary>Readings that fall where the certified values rise by more than
    /// the tolerance allows are readings of other patches.</summary>
    public void RefuseFalling(double tolerance)
    {
        foreach (var (lower, upper) in Patches.Zip(Patches.Skip(1)))
        {
            if (upper.Reads.Mean <= lower.Reads.Mean && (double)(upper.Density - lower.Density) > 2 * tolerance)
            {
                throw new GaugeException(string.Create(
                    CultureInfo.InvariantCulture,
                    $"The readings in {Channel.Word()} must rise along the plaque, but patch {upper.Key} ({upper.Reads.Mean:0.00##}) "
                    + $"reads no more than patch {lower.Key} ({lower.Reads.Mean:0.00##}). Were the patches read in the wrong order, or "
                        + $"the plaque from the wrong end? Read it again."));
            }
        }
    }

    public PlaqueError ErrorOf(CertifiedReads patch, double tolerance)
    {
        var (error, uncertainty) = (Clean(patch.Reads.Mean - (double)patch.Density), Math.Sqrt(VarianceOf(patch)));
        var probability = Inside(error, uncertainty, tolerance, Freedom(patch));
        return new PlaqueError(
            patch.Key,
            Channel,
            (double)patch.Density,
            patch.Reads.Mean,
            patch.Reads.Count,
            error,
            uncertainty,
            Math.Abs(error) <= tolerance + 1e-9,
            probability,
            probability switch { >= 0.95 => CheckVerdict.Pass, <= 0.05 => CheckVerdict.Fail, _ => CheckVerdict.Undecided });
    }

    /// <summary>The mean error with its 95 % interval. One certificate and one display stand
    /// behind all patches, so only the scatter averages out.</summary>
    public Adjustment MeanError(ImmutableArray<PlaqueError> errors)
    {
        var scatter = Patches.Sum(ScatterOf) / (Patches.Length * Patches.Length);
        // Averaging over patches thins out the scatter only; step and certificate may be one error in all of them.
        var common = Patches.Max(p => VarianceOf(p) - ScatterOf(p));
        var freedom = EffectiveFreedom(scatter, common);
        return Adjustment.About(errors.Average(e => e.Error), Quantiles.Student(0.975, freedom) * Math.Sqrt(scatter + common));
    }

    private static double Clean(double value) => Math.Round(value, 12) + 0.0;

    internal double ScatterOf(CertifiedReads patch) =>
        Deviation is { } d ? d.StandardDeviation * d.StandardDeviation / patch.Reads.Count : 0;

    // The display step counts by itself only where the reads scatter by less than half of it (GUM F.2.2.1).
    internal double Rounding => (Deviation?.StandardDeviation ?? 0) < Step / 2 * (1 - 1e-9) ? Step * Step / 12 : 0;

    internal double VarianceOf(CertifiedReads patch)
    {
        var certificate = patch.Certified.StandardUncertainty;
        return ScatterOf(patch) + Rounding + (certificate * certificate);
    }

    private double Freedom(CertifiedReads patch) => EffectiveFreedom(ScatterOf(patch), VarianceOf(patch) - ScatterOf(patch));

    // Welch–Satterthwaite, with everything but the scatter taken as known for certain; cut to a whole number (GUM G.4.1).
    internal double EffectiveFreedom(double scatter, double other) => scatter == 0
        ? double.PositiveInfinity
        : Math.Max(1, Math.Floor(((scatter + other) * (scatter + other) / (scatter * scatter) * Deviation!.Value.DegreesOfFreedom) + 1e-9));

    private static double Inside(double error, double uncertainty, double tolerance, double freedom)
    {
        return Below((tolerance - error) / uncertainty) - Below((-tolerance - error) / uncertainty);

        double Below(double t) => t >= 0 ? 1 - (Quantiles.StudentTail(t, freedom) / 2) : Quantiles.StudentTail(t, freedom) / 2;
    }
}

/// <summary>The reads of one certified patch in one channel.</summary>
/// <param name="Certified">The patch.</param>
/// <param name="Density">Its certified density in the channel.</param>
internal sealed record CertifiedReads(PlaquePatch Certified, decimal Density, Summary Reads)
{
    public string Key => Certified.Patch.Key;
}

/// <summary>Zero and slope of the readings of a plaque, with 95 % intervals that hold all that is known: the scatter of the reads, the
/// display step where it hides the scatter, and the certificate (GUM, JCGM 100:2008, 5.1.2 and G.4.1).</summary>
/// <remarks>A certificate does not say how the errors of its patches hang together. Errors of their own average out in the
/// zero, an error that all share does not; the larger of the two is counted. Where the readings lie farther from the line
/// than their uncertainties explain (χ² at 5 %), or nothing is known of the scatter, the distances from the line
/// themselves make the interval when that is the wider one.</remarks>
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

        // A certificate does not say whether its errors are independent or one, and a slope suffers from the first, a zero from the second.
        return (scatter, step + Math.Max(own, shared * shared));
    }
}
