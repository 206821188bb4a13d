namespace Acquire.Analysis.Statistics;

/// <summary>A weighted sum of independent mean squares, such as an estimate of a variance component.</summary>
/// <param name="Terms">Weight, of either sign, mean square with a degree of freedom, and what it is of; each stands once.</param>
public sealed record MeanSquares(ImmutableArray<(double Weight, SquaresRow Row, int Of)> Terms)
{
    /// <summary>The sum, in the square of the readings' unit; may be below 0.</summary>
    public double Value => Terms.Sum(t => t.Weight * t.Row.MeanSquare!.Value);

    /// <summary>Degrees of freedom after Satterthwaite (<i>Biometrics Bulletin</i> 2, 1946); those of the mean square where there is one.
    /// Infinite where nothing scatters.</summary>
    public double DegreesOfFreedom
    {
        get
        {
            var doubt = Terms.Sum(t => Math.Pow(t.Weight * t.Row.MeanSquare!.Value, 2) / t.Row.DegreesOfFreedom);
            return doubt > 0 ? Value * Value / doubt : double.PositiveInfinity;
        }
    }

    /// <summary>The two-sided modified-large-sample interval: F. A. Graybill and C.-M. Wang, <i>J. Amer. Statist. Assoc.</i> 75, 1980,
    /// where all weights are above 0; N. Ting, R. K. Burdick, F. A. Graybill, S. Jeyaratnam and T.-F. C. Lu, <i>J. Statist. Comput.
    /// Simul.</i> 35, 1990, where some are not (formulae from memory). Exact for one mean square.</summary>
    /// <param name="confidence">Above 0 and below 1.</param>
    /// <returns>The ends; a variance that cannot be below 0 may have an end there all the same.</returns>
    public (double Low, double High) Interval(double confidence = 0.95)
    {
        var alpha = (1 - confidence) / 2;
        ImmutableArray<Part> plus = [.. Terms.Where(t => t.Weight > 0).Select(t => Part.Of(t.Weight, t.Row, alpha))];
        ImmutableArray<Part> minus = [.. Terms.Where(t => t.Weight < 0).Select(t => Part.Of(-t.Weight, t.Row, alpha))];
        var low = plus.Sum(p => Square(p.Below * p.Size)) + minus.Sum(m => Square(m.Above * m.Size));
        var high = plus.Sum(p => Square(p.Above * p.Size)) + minus.Sum(m => Square(m.Below * m.Size));
        foreach (var (p, m) in plus.SelectMany(p => minus.Select(m => (p, m))))
        {
            var (upper, lower) = (Quantiles.Fisher(1 - alpha, p.Freedom, m.Freedom), Quantiles.Fisher(alpha, p.Freedom, m.Freedom));
            low += (Square(upper - 1) - Square(p.Below * upper) - Square(m.Above)) / upper * p.Size * m.Size;
            high += (Square(1 - lower) - Square(p.Above * lower) - Square(m.Below)) / lower * p.Size * m.Size;
        }

        if (!minus.IsEmpty)
        {
            low += Pairs(plus, alpha);
            high += Pairs(minus, alpha);
        }

        return (Value - Math.Sqrt(Math.Max(0, low)), Value + Math.Sqrt(Math.Max(0, high)));
    }

    // What two mean squares of one sign add, so that the interval stays exact when all but these two are nothing.
    private static double Pairs(ImmutableArray<Part> parts, double alpha)
    {
        var sum = 0.0;
        for (var i = 0; i < parts.Length; i++)
        {
            for (var j = i + 1; j < parts.Length; j++)
            {
                double n = parts[i].Freedom, m = parts[j].Freedom;
                var together = 1 - ((n + m) / Quantiles.ChiSquare(1 - alpha, n + m));
                sum += ((Square(together * (n + m)) / (n * m)) - (Square(parts[i].Below) * n / m) - (Square(parts[j].Below) * m / n))
                    / (parts.Length - 1) * parts[i].Size * parts[j].Size;
            }
        }

        return sum;
    }

    private static double Square(double value) => value * value;

    /// <param name="Size">Weight times mean square.</param>
    /// <param name="Below">How far the true value may lie below, as a share of the estimate.</param>
    /// <param name="Above">How far it may lie above.</param>
    private readonly record struct Part(double Size, int Freedom, double Below, double Above)
    {
        public static Part Of(double weight, SquaresRow row, double alpha)
        {
            var freedom = row.DegreesOfFreedom;
            return new Part(
                weight * row.MeanSquare!.Value, freedom,
                1 - (freedom / Quantiles.ChiSquare(1 - alpha, freedom)), (freedom / Quantiles.ChiSquare(alpha, freedom)) - 1);
        }
    }
}
