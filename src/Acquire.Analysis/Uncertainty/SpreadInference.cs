using MathNet.Numerics.RootFinding;

namespace Acquire.Analysis.Uncertainty;

/// <summary>
/// What three uncertain deviations say of their true spread. The largest minus the smallest is biased: noise alone makes a spread, and adds
/// to a true one. So the distribution of the range is turned round: each true spread is asked how often it would show no more than was
/// seen.
/// </summary>
/// <remarks>A true spread is taken to lie along the pattern that was seen, stretched or shrunk; of a pattern without any, evenly.</remarks>
public sealed class SpreadInference
{
    private const double Accuracy = 1e-5;
    private readonly double[] _pattern;
    private readonly double[] _deviations;

    /// <param name="means">Three deviations.</param>
    /// <param name="deviations">Their standard uncertainties.</param>
    public SpreadInference(ReadOnlySpan<double> means, ReadOnlySpan<double> deviations)
    {
        var all = means.ToArray();
        Shown = all.Max() - all.Min();
        _pattern = Shown > 0 ? [.. all.Select(m => (m - all.Min()) / Shown)] : [0, 0.5, 1];
        _deviations = deviations.ToArray();
    }

    /// <summary>The largest minus the smallest.</summary>
    public double Shown { get; }

    /// <summary>
    /// How sure it is that the true spread is inside a limit: the probability that a spread on the limit would show more than was seen.
    /// "In" and "out" at 95 % are each wrong in one case of twenty at most when the truth is on the limit.
    /// </summary>
    public double Inside(double limit) => Math.Clamp(1 - NoMore(limit), 0, 1);

    /// <summary>
    /// The spread that would show more as often as less, with its interval: 0 where noise alone would show as much. All in the deviations'
    /// unit.
    /// </summary>
    public (double Estimate, double Low, double High) Estimate(double confidence = 0.95)
    {
        // Farther than this no noise carries.
        var most = Shown + (10 * _deviations.Max()) + Accuracy;
        return (At(0.5), At((1 + confidence) / 2), At((1 - confidence) / 2));

        double At(double probability) =>
            NoMore(0) <= probability ? 0
            : _deviations.All(d => d == 0) ? Shown
            : Brent.FindRoot(spread => NoMore(spread) - probability, 0, most, Accuracy, 200);
    }

    /// <summary>How often a true spread would show no more than was seen.</summary>
    private double NoMore(double spread) => RangeOfThree.Probability(Shown, [.. _pattern.Select(p => p * spread)], _deviations);
}
