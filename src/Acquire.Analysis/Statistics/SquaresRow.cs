namespace Acquire.Analysis.Statistics;

/// <summary>One line of an analysis of variance.</summary>
/// <param name="SumOfSquares">In the square of the readings' unit.</param>
/// <param name="DegreesOfFreedom">0 at least.</param>
public readonly record struct SquaresRow(double SumOfSquares, int DegreesOfFreedom)
{
    /// <summary>Sum of squares over degrees of freedom; null without freedom.</summary>
    public double? MeanSquare => DegreesOfFreedom > 0 ? SumOfSquares / DegreesOfFreedom : null;

    /// <summary>Both rows together.</summary>
    public static SquaresRow operator +(SquaresRow left, SquaresRow right) =>
        new(left.SumOfSquares + right.SumOfSquares, left.DegreesOfFreedom + right.DegreesOfFreedom);
}
