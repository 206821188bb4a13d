using MathNet.Numerics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.RootFinding;

namespace Acquire.Analysis.Statistics;

/// <summary>Critical values and tail probabilities of the three distributions that scatter is judged by. The library's own inverses look
/// within a fixed range only and would miss an F of more than 1000, which two reads against two can well give.</summary>
internal static class Quantiles
{
    public static double ChiSquare(double probability, double freedom) => ChiSquared.InvCDF(freedom, probability);

    /// <summary>Chance of a larger χ².</summary>
    public static double ChiSquareTail(double value, double freedom) => SpecialFunctions.GammaUpperRegularized(freedom / 2, value / 2);

    /// <summary>Student's t: from the incomplete beta function, so that small tails keep their digits.</summary>
    public static double Student(double probability, double freedom) => probability < 0.5
        ? -Student(1 - probability, freedom)
        : Positive(t => 1 - (StudentTail(t, freedom) / 2) - probability);

    /// <summary>Chance of a t farther from 0 than this, on both sides together; infinite freedom is the normal distribution.</summary>
    public static double StudentTail(double t, double freedom) => double.IsPositiveInfinity(freedom)
        ? SpecialFunctions.Erfc(Math.Abs(t) / Constants.Sqrt2)
        : SpecialFunctions.BetaRegularized(freedom / 2, 0.5, freedom / (freedom + (t * t)));

    public static double Fisher(double probability, double numerator, double denominator) =>
        Positive(f => 1 - FisherTail(f, numerator, denominator) - probability);

    /// <summary>Chance of a larger F.</summary>
    public static double FisherTail(double f, double numerator, double denominator) =>
        SpecialFunctions.BetaRegularized(denominator / 2, numerator / 2, denominator / (denominator + (numerator * f)));

    // The root of a rising function that is below 0 at 0.
    private static double Positive(Func<double, double> rising)
    {
        if (rising(0) >= 0)
        {
            return 0;
        }

        var high = 1.0;
        while (rising(high) < 0)
        {
            high *= 2;
        }

        return Brent.FindRoot(rising, 0, high, high * 1e-15, 500);
    }
}
