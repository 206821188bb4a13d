using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Tests.Regression;

/// <summary>
/// Where a straight line reaches a value, with its interval (F. A. Graybill and H. K. Iyer, <i>Regression Analysis</i>, 1994; inversion,
/// which is Fieller's interval).
/// </summary>
internal static class InversePrediction
{
    /// <summary>Finds where the line reaches <paramref name="value"/>.</summary>
    /// <param name="points">The points that the line is fitted to, three at least.</param>
    /// <param name="value">The value of y.</param>
    /// <param name="readings">
    /// How many readings <paramref name="value"/> is the mean of; null when it is known exactly or a mean response is asked for.
    /// </param>
    /// <param name="confidence">Confidence of the interval.</param>
    /// <exception cref="ModelException">Too few points, or all at one x.</exception>
    public static RatioInterval Of(IReadOnlyList<(double X, double Y)> points, double value, int? readings, double confidence = 0.95)
    {
        var (line, x, y, squares, s2) = Fit(points);
        var t = Quantiles.Student((1 + confidence) / 2, points.Count - 2);
        var ratio = RatioInterval.Of(
            value - y, line.Slope, s2 * ((readings is { } m ? 1.0 / m : 0) + (1.0 / points.Count)), s2 / squares, 0, t);
        return ratio with { Estimate = x + ratio.Estimate, Lower = x + ratio.Lower, Upper = x + ratio.Upper };
    }

    /// <summary>Standard error of the place by propagation (the delta method); good where the slope is well known.</summary>
    /// <exception cref="ModelException">Too few points, or all at one x.</exception>
    public static double StandardError(IReadOnlyList<(double X, double Y)> points, double value, int? readings)
    {
        var (line, _, y, squares, s2) = Fit(points);
        var distance = (value - y) / line.Slope;
        return Math.Sqrt(s2) / Math.Abs(line.Slope)
            * Math.Sqrt((readings is { } m ? 1.0 / m : 0) + (1.0 / points.Count) + (distance * distance / squares));
    }

    /// <summary>The line, the middle of its points, and the variance about it, ν = n − 2.</summary>
    private static (StraightLine Line, double X, double Y, double Squares, double Variance) Fit(
        IReadOnlyList<(double X, double Y)> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        var line = StraightLine.Of(points) ?? throw new ModelException("A line needs three points at least, at two places at least.");
        var (x, y) = (Summary.Of([.. points.Select(p => p.X)]).Mean, Summary.Of([.. points.Select(p => p.Y)]).Mean);
        var variance = points.Sum(p => Math.Pow(p.Y - line.At(p.X), 2)) / (points.Count - 2);
        return (line, x, y, points.Sum(p => (p.X - x) * (p.X - x)), variance);
    }
}
