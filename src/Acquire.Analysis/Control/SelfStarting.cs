using Acquire.Analysis.Statistics;
using MathNet.Numerics.Distributions;

namespace Acquire.Analysis.Control;

/// <summary>Turns values of a process whose level and scatter are not known beforehand into standard normal scores, from the third value
/// on: each value is held against those before it, and Student's t makes up for how few they are (D. M. Hawkins, <i>The Statistician</i>
/// 36, 1987; C. P. Quesenberry, <i>Journal of Quality Technology</i> 23, 1991; from memory). In control the scores are independent and
/// exactly normal, so detectors keep their published run lengths however short the history is.</summary>
/// <remarks>The level starts anew where values are not comparable with those before them, as at a change of strip lot, whose aims have an
/// error of their own; the scatter is carried on. The first value of a level has no score.</remarks>
/// <param name="Count">Values of the present level.</param>
/// <param name="Squares">Squares about the means of all levels.</param>
/// <param name="DegreesOfFreedom">Of the squares.</param>
/// <param name="LeastSigma">
/// In the unit of the values. The scatter is never taken below this: no process scatters less than its readings.
/// </param>
public readonly record struct SelfStarting(int Count, double Mean, double Squares, double DegreesOfFreedom, double LeastSigma)
{
    /// <summary>The least scatter counts as so much evidence of its own, so that two or three values that happen
    /// to lie close do not make the next one look far out.</summary>
    private const double PriorDegreesOfFreedom = 2;

    /// <summary>Before any value.</summary>
    /// <param name="leastSigma">What the readings alone scatter by; 0 when not known.</param>
    public static SelfStarting Begin(double leastSigma) => new(
        0, 0, leastSigma > 0 ? leastSigma * leastSigma * PriorDegreesOfFreedom : 0, leastSigma > 0 ? PriorDegreesOfFreedom : 0, leastSigma);

    /// <summary>Standard deviation of a single value about its level, as far as known; null before anything tells of it.</summary>
    public double? Sigma => DegreesOfFreedom > 0 ? Math.Max(LeastSigma, Math.Sqrt(Squares / DegreesOfFreedom)) : null;

    /// <summary>Takes one more value.</summary>
    /// <returns>The state after it, and its score; null where there is nothing yet to hold it against.</returns>
    public (SelfStarting Next, double? Score) Take(double value)
    {
        var count = Count + 1;
        var distance = value - Mean;
        // Held against the values before it only: a value that went into its own mean would hide itself.
        var score = Count > 0 && Sigma is > 0 and { } sigma
            ? ScoreOf(distance / (sigma * Math.Sqrt(1 + (1.0 / Count))), DegreesOfFreedom)
            : (double?)null;
        return (
            this with
            {
                Count = count,
                Mean = Mean + (distance / count),
                // The first value of a level tells of no scatter. Welford's update keeps the digits that a running sum of squares loses.
                Squares = Squares + (Count > 0 ? distance * distance * Count / count : 0),
                DegreesOfFreedom = DegreesOfFreedom + (Count > 0 ? 1 : 0),
            },
            score);
    }

    /// <summary>Begins a new level; the scatter stays.</summary>
    public SelfStarting NewLevel() => this with { Count = 0, Mean = 0 };

    /// <summary>The level as it is from some values on, for going on after a step.</summary>
    public SelfStarting Level(ImmutableArray<double> values) =>
        values.IsEmpty ? NewLevel() : this with { Count = values.Length, Mean = Summary.Of(values).Mean };

    private static double ScoreOf(double t, double freedom)
    {
        var tail = Quantiles.StudentTail(t, freedom) / 2;
        // Beyond some 38 sigma the tail is 0 in a double, and an infinite score would stay in every average after it.
        return tail <= 0 ? Math.Sign(t) * 38 : -Math.Sign(t) * Normal.InvCDF(0, 1, tail);
    }
}
