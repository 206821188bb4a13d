namespace Acquire.Analysis.Statistics;

/// <summary>A straight line y = zero + slope · x by ordinary least squares; x is
/// taken as known, y as scattering alike everywhere.</summary>
/// <param name="Zero">y at x = 0.</param>
/// <param name="Slope">Change of y per unit of x.</param>
public sealed record StraightLine(double Zero, double Slope)
{
    /// <summary>Fits a line; sums are taken about the means, so that no digits are lost (NIST StRD, linear regression).</summary>
    /// <returns>The line; null with fewer than 3 points or fewer than 2 different x.</returns>
    /// <exception cref="ArgumentException">A number is not finite.</exception>
    public static StraightLine? Of(IReadOnlyList<(double X, double Y)> points)
    {
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
        return new StraightLine(y - (slope * x), slope);
    }

    public double At(double x) => Zero + (Slope * x);
}

/// <summary>A straight line y = zero + slope · x by weighted least squares: x is taken as known, every y has a standard uncertainty of its
/// own (ISO/TS 28037:2010, clause 6; the formulae from memory). With equal uncertainties it is the ordinary fit.</summary>
/// <param name="Zero">y at x = 0.</param>
/// <param name="Slope">Change of y per unit of x.</param>
/// <param name="ZeroFactors">What each y adds to the zero: zero = Σ factor · y.</param>
/// <param name="SlopeFactors">What each y adds to the slope.</param>
/// <param name="ChiSquare">Σ ((y − line)/u)²; about n − 2 where the uncertainties explain the distances from the line.</param>
/// <param name="DegreesOfFreedom">n − 2, 1 at least.</param>
public sealed record WeightedLine(
    double Zero, double Slope, ImmutableArray<double> ZeroFactors, ImmutableArray<double> SlopeFactors, double ChiSquare,
    int DegreesOfFreedom)
{
    /// <summary>Fits a line; sums are taken about the weighted means, so that no digits are lost.</summary>
    /// <param name="points">The points with the standard uncertainty u of each y, above 0.</param>
    /// <returns>The line; null with fewer than 3 points or fewer than 2 different x.</returns>
    public static WeightedLine? Of(IReadOnlyList<(double X, double Y, double U)> points)
    {
        if (points.Count < 3 || points.All(p => p.X == points[0].X))
        {
            return null;
        }

        double[] weights = [.. points.Select(p => 1 / (p.U * p.U))];
        var all = weights.Sum();
        var (x, y) = (Weighted(p => p.X) / all, Weighted(p => p.Y) / all);
        var squares = Weighted(p => (p.X - x) * (p.X - x));
        ImmutableArray<double> slopeFactors = [.. points.Select((p, i) => weights[i] * (p.X - x) / squares)];
        ImmutableArray<double> zeroFactors = [.. weights.Select((w, i) => (w / all) - (x * slopeFactors[i]))];
        var slope = points.Select((p, i) => slopeFactors[i] * (p.Y - y)).Sum();
        var distance = Weighted(p => Square(p.Y - y - (slope * (p.X - x))));
        return new WeightedLine(y - (slope * x), slope, zeroFactors, slopeFactors, distance, points.Count - 2);

        double Weighted(Func<(double X, double Y, double U), double> value) => points.Select((p, i) => weights[i] * value(p)).Sum();
    }

    private static double Square(double value) => value * value;
}
