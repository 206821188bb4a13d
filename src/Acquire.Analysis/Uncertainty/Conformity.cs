using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Uncertainty;

/// <summary>
/// How probable it is that a true value lies inside a limit (JCGM 106:2012, clause 7): normal, or Student's t where the uncertainty itself
/// rests on few readings.
/// </summary>
public static class Conformity
{
    /// <summary>Probability, 0 … 1, that the true deviation lies inside.</summary>
    /// <param name="limit">The limit.</param>
    /// <param name="deviation">The measured deviation.</param>
    /// <param name="standardUncertainty">Its standard uncertainty, in the same unit; 0 makes it a plain comparison.</param>
    /// <param name="degreesOfFreedom">Of the uncertainty; infinite for the normal distribution.</param>
    public static double Inside(Limit limit, double deviation, double standardUncertainty, double degreesOfFreedom = double.PositiveInfinity)
    {
        ArgumentNullException.ThrowIfNull(limit);
        if (standardUncertainty == 0)
        {
            return limit.Holds(deviation) ? 1 : 0;
        }

        var above = limit.Upper is { } upper ? Tail((upper - deviation) / standardUncertainty, degreesOfFreedom) : 0;
        var below = limit.Lower is { } lower ? Tail((deviation - lower) / standardUncertainty, degreesOfFreedom) : 0;
        return Math.Clamp(1 - above - below, 0, 1);
    }

    /// <summary>Chance of more than z.</summary>
    private static double Tail(double z, double freedom)
    {
        var both = Quantiles.StudentTail(z, Math.Max(freedom, 1)) / 2;
        return z >= 0 ? both : 1 - both;
    }
}
