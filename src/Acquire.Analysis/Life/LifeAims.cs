using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>What the aims themselves may be wrong by.</summary>
internal static class LifeAims
{
    /// <summary>Variance of the mean of the lots' aims. An aim was read as the strips were, so what is assumed of reading it is no more
    /// than the strips are seen to scatter.</summary>
    /// <param name="even">Whether the mean is one of the lots; otherwise a lot weighs as its strips do.</param>
    /// <param name="residual">Squares of the strips about their model.</param>
    public static double Variance(ImmutableArray<LifeRow> rows, bool even, SquaresRow residual)
    {
        var read = rows.Average(r => r.Read * r.Read);
        var told = new LeastScatter(Math.Sqrt(read), rows.Min(r => r.ReadFreedom));
        var freedom = residual.DegreesOfFreedom;
        var seen = read > 0 ? Math.Min(1, told.Floored(residual.SumOfSquares, freedom) / freedom / read) : 1;
        var lots = rows.GroupBy(r => r.Lot, StringComparer.OrdinalIgnoreCase).ToList();
        return lots.Sum(l => Math.Pow(even ? 1.0 / lots.Count : l.Count() / (double)rows.Length, 2)
            * l.Average(r => (r.Aim * r.Aim) + (seen * r.AssumedAim * r.AssumedAim)));
    }
}
