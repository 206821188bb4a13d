using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>How many strips a comparison of two methods takes.</summary>
public static class Power
{
    /// <summary>More strips of each method than this are no plan.</summary>
    public const int Most = 1000;

    /// <summary>
    /// Strips of each method so that a difference is found, at 5 % on both sides, in four of five trials: n ≥ 2 s² (t₀.₉₇₅ + t₀.₈)² / δ², with the
    /// degrees of freedom of n (W. G. Cochran and G. M. Cox, <i>Experimental Designs</i>, 1957; from memory).
    /// </summary>
    /// <param name="difference">The difference to be seen, above 0.</param>
    /// <param name="sigma">Standard deviation from strip to strip.</param>
    /// <param name="power">Share of trials that are to find it.</param>
    /// <returns>2 … <see cref="Most"/>; null when not even that many would do.</returns>
    public static int? StripsOfEach(double difference, double sigma, double power = 0.8)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(difference);
        for (var n = 2; n <= Most; n++)
        {
            var freedom = (2 * n) - 2;
            var reach = Quantiles.Student(0.975, freedom) + Quantiles.Student(power, freedom);
            if (n >= 2 * sigma * sigma * reach * reach / (difference * difference))
            {
                return n;
            }
        }

        return null;
    }
}
