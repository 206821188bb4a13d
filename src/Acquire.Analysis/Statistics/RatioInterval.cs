namespace Acquire.Analysis.Statistics;

public enum RatioKind
{
    /// <summary>It has two ends.</summary>
    Bounded,

    /// <summary>The denominator may be 0: everything but what lies between the ends
    /// is possible, so at least one direction has no end.</summary>
    Open,

    /// <summary>Nothing is ruled out.</summary>
    Everything,
}

/// <summary>Interval of a ratio of two estimates that scatter normally (E. C. Fieller, <i>J. Roy. Statist. Soc.</i> B 16, 1954): the
/// ratios ρ for which numerator − ρ · denominator may be 0.</summary>
/// <param name="Estimate">Numerator / denominator; not finite where the denominator is 0.</param>
/// <param name="Lower">Lower end; of an open interval, the end of its lower part. Not a number when nothing is ruled out.</param>
/// <param name="Upper">Upper end; of an open interval, the beginning of its upper part.</param>
/// <param name="Kind">What it looks like.</param>
/// <param name="G">g = t²·var(denominator)/denominator²: below 1 the denominator differs from 0 and the interval is bounded.</param>
public sealed record RatioInterval(double Estimate, double Lower, double Upper, RatioKind Kind, double G)
{
    /// <summary>Finds the interval.</summary>
    /// <param name="factor">Student's t, or 1.96 and the like.</param>
    public static RatioInterval Of(
        double numerator, double denominator, double numeratorVariance, double denominatorVariance, double covariance, double factor)
    {
        var t2 = factor * factor;

        // a ρ² − 2 b ρ + c ≤ 0
        var a = (denominator * denominator) - (t2 * denominatorVariance);
        var b = (numerator * denominator) - (t2 * covariance);
        var c = (numerator * numerator) - (t2 * numeratorVariance);
        var g = denominator == 0 ? double.PositiveInfinity : t2 * denominatorVariance / (denominator * denominator);
        var root = (b * b) - (a * c);
        if (a == 0 || root < 0)
        {
            return new RatioInterval(numerator / denominator, double.NaN, double.NaN, RatioKind.Everything, g);
        }

        // The stable pair of roots: no difference of nearly equal numbers.
        var q = b + (Math.Sign(b == 0 ? 1 : b) * Math.Sqrt(root));
        var (first, second) = q == 0 ? (0.0, 0.0) : (q / a, c / q);
        return new RatioInterval(
            numerator / denominator, Math.Min(first, second), Math.Max(first, second), a > 0 ? RatioKind.Bounded : RatioKind.Open, g);
    }
}
