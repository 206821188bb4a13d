namespace Acquire.Analysis.Statistics;

/// <summary>What a straight line says at one x: of the mean of all readings there, and of one more.</summary>
/// <param name="Value">y on the line.</param>
/// <param name="MeanError">Standard error of that mean.</param>
/// <param name="SingleError">Standard deviation of one more reading, or of the mean of several, about it.</param>
/// <param name="Factor">Student's t of the intervals: value ± factor · error.</param>
/// <param name="IsBeyond">Whether x lies outside the points, where nothing shows that the line goes on.</param>
public sealed record LinePrediction(double X, double Value, double MeanError, double SingleError, double Factor, bool IsBeyond)
{
    /// <summary>Predicts (N. R. Draper and H. Smith, <i>Applied Regression Analysis</i>, 1998, ch. 3).</summary>
    /// <param name="line">A line with constant and one slope.</param>
    /// <param name="readings">How many further readings are averaged, 1 at least.</param>
    /// <param name="confidence">Above 0 and below 1.</param>
    /// <returns>The prediction; null without degrees of freedom.</returns>
    public static LinePrediction? At(StudiedLine line, double x, int readings = 1, double confidence = 0.95)
    {
        var (value, error) = line.Model.Combine([1, x]);
        return (error, line.Model.ResidualDeviation) is not ({ } mean, { } s) ? null : new LinePrediction(
            x, value, mean, Math.Sqrt((mean * mean) + (s * s / readings)),
            Quantiles.Student((1 + confidence) / 2, line.Model.Residual.DegreesOfFreedom), x < line.Least || x > line.Largest);
    }
}

/// <summary>Where a straight line reaches a y: by a reading of that value, and by the mean of all readings there.</summary>
/// <param name="OneReading">By one reading, or the mean of several; an end is an x.</param>
/// <param name="Mean">By the mean.</param>
/// <param name="SingleError">Standard error by propagation, good where the slope is well known; not finite for a level line.</param>
/// <param name="MeanError">The same for the mean.</param>
/// <param name="IsBeyond">Whether the x lies outside the points, where nothing shows that the line goes on.</param>
public sealed record InversePrediction(
    double Y, RatioInterval OneReading, RatioInterval Mean, double SingleError, double MeanError, bool IsBeyond)
{
    /// <summary>Finds where the line reaches <paramref name="y"/>, with Fieller's intervals (F. A. Graybill and H. K. Iyer,
    /// <i>Regression Analysis</i>, 1994).</summary>
    /// <param name="line">A line with constant and one slope.</param>
    /// <param name="readings">How many readings <paramref name="y"/> is the mean of, 1 at least.</param>
    /// <param name="confidence">Above 0 and below 1.</param>
    /// <returns>The place; null without degrees of freedom.</returns>
    public static InversePrediction? Of(StudiedLine line, double y, int readings = 1, double confidence = 0.95)
    {
        if (line.Model.ResidualDeviation is not { } s)
        {
            return null;
        }

        // About the middle of the points, where mean and slope are independent and no digits are lost.
        var (unscaled, slope) = (line.Model.Unscaled, line.Model.Coefficients[1]);
        var middle = -unscaled[0, 1] / unscaled[1, 1];
        var ofMean = (unscaled[0, 0] + (middle * unscaled[0, 1])) * s * s;
        var ofSlope = unscaled[1, 1] * s * s;
        var above = y - line.Model.Combine([1, middle]).Value;
        var t = Quantiles.Student((1 + confidence) / 2, line.Model.Residual.DegreesOfFreedom);
        var (single, mean) = (Reach(ofMean + (s * s / readings)), Reach(ofMean));
        return new InversePrediction(
            y, single, mean, Error(ofMean + (s * s / readings)), Error(ofMean),
            !(single.Estimate >= line.Least && single.Estimate <= line.Largest));

        RatioInterval Reach(double variance)
        {
            var ratio = RatioInterval.Of(above, slope, variance, ofSlope, 0, t);
            return ratio with { Estimate = middle + ratio.Estimate, Lower = middle + ratio.Lower, Upper = middle + ratio.Upper };
        }

        double Error(double variance) => Math.Sqrt(variance + (above / slope * (above / slope) * ofSlope)) / Math.Abs(slope);
    }
}

/// <summary>A straight line with the range of the points behind it.</summary>
/// <param name="Model">Constant and slope.</param>
/// <param name="Least">The least x.</param>
/// <param name="Largest">The largest.</param>
public sealed record StudiedLine(LinearModel Model, double Least, double Largest)
{
    /// <summary>Fits a line.</summary>
    /// <exception cref="ModelException">There are fewer than two points, all are at one x, or a number is not finite.</exception>
    public static StudiedLine Of(IReadOnlyList<(double X, double Y)> points) => new(
        LeastSquares.Fit([.. points.Select(p => p.Y)], [new Term("x", [.. points.Select(p => p.X)])]),
        points.Min(p => p.X), points.Max(p => p.X));

    /// <summary>Covariance of constant and slope; null without degrees of freedom.</summary>
    public double? Covariance => Model.Covariance([1, 0], [0, 1]);
}
