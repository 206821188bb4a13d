namespace Acquire.Analysis.Statistics;

/// <summary>
/// A straight line y = zero + slope · x by ordinary least squares; x is taken as known, y as scattering alike everywhere.
/// </summary>
/// <param name="Zero">y at x = 0.</param>
/// <param name="ZeroError">Standard error of the zero.</param>
/// <param name="Slope">Change of y per unit of x.</param>
/// <param name="SlopeError">Standard error of the slope.</param>
/// <param name="ResidualDeviation">Standard deviation of y about the line, ν = n − 2.</param>
/// <param name="DegreesOfFreedom">n − 2, 1 at least.</param>
public sealed record StraightLine(
    double Zero, double ZeroError, double Slope, double SlopeError, double ResidualDeviation, int DegreesOfFreedom)
{
    /// <summary>Fits a line; sums are taken about the means, so that no digits are lost (NIST StRD, linear regression).</summary>
    /// <returns>The line; null with fewer than 3 points or fewer than 2 different x.</returns>
    /// <exception cref="ArgumentException">A number is not finite.</exception>
    public static StraightLine? Of(IReadOnlyList<(double X, double Y)> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        if (points.Count < 3)
        {
            return null;
        }

        var (x, y) = (Summary.Of([.. points.Select(p => p.X)]).Mean, Summary.Of([.. points.Select(p => p.Y)]).Mean);
        var squares = points.Sum(p => (p.X - x) * (p.X - x));
        if (squares == 0)
        {
            return null;
        }

        var slope = points.Sum(p => (p.X - x) * (p.Y - y)) / squares;
        var residue = points.Select(p => p.Y - y - (slope * (p.X - x))).Sum(r => r * r);
        var freedom = points.Count - 2;
        var s = Math.Sqrt(residue / freedom);
        return new StraightLine(
            y - (slope * x), s * Math.Sqrt((1.0 / points.Count) + (x * x / squares)), slope, s / Math.Sqrt(squares), s, freedom);
    }

    /// <summary>The line's y at an x.</summary>
    public double At(double x) => Zero + (Slope * x);

    /// <summary>How far the zero may be off on either side, by Student's t.</summary>
    public double ZeroMargin(double confidence = 0.95) => Margin(confidence) * ZeroError;

    /// <summary>How far the slope may be off on either side, by Student's t.</summary>
    public double SlopeMargin(double confidence = 0.95) => Margin(confidence) * SlopeError;

    private double Margin(double confidence) => Quantiles.Student((1 + confidence) / 2, DegreesOfFreedom);
}
