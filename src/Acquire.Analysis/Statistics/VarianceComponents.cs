namespace Acquire.Analysis.Statistics;

/// <summary>The variance of one reading, split by its causes; variances are in the square of the readings' unit.</summary>
/// <param name="Within">Variance of readings inside a group.</param>
/// <param name="Between">Variance from group to group, beyond what the scatter inside makes; 0 at least.</param>
/// <param name="BetweenFloored">
/// Whether the estimate came out below 0 and was set to 0: the groups differ less than chance would have it.
/// </param>
/// <param name="DegreesOfFreedom">
/// Of the sum of both, after Satterthwaite (<i>Biometrics Bulletin</i> 2, 1946), cut to a whole number (GUM, JCGM 100:2008, G.4.1);
/// 1 at least.
/// </param>
public sealed record VarianceComponents(double Within, double Between, bool BetweenFloored, int DegreesOfFreedom)
{
    /// <summary>Variance of one reading of a group taken at random.</summary>
    public double Total => Within + Between;

    /// <summary>Variance of the mean of some groups with the same number of readings in each.</summary>
    public double OfMean(int groups, int readingsInEach) => (Between / groups) + (Within / (groups * readingsInEach));

    internal static VarianceComponents? Of(SquaresRow between, SquaresRow within, double groupSize)
    {
        if ((between.MeanSquare, within.MeanSquare) is not ({ } outer, { } inner))
        {
            return null;
        }

        var component = (outer - inner) / groupSize;
        return component > 0
            ? new VarianceComponents(
                inner, component, false, Freedom((outer / groupSize, between), (inner * (1 - (1 / groupSize)), within)))
            : new VarianceComponents(inner, 0, component < 0, within.DegreesOfFreedom);
    }

    private static int Freedom(params ReadOnlySpan<(double Variance, SquaresRow Row)> parts)
    {
        var (sum, weighted) = (0.0, 0.0);
        foreach (var (variance, row) in parts)
        {
            sum += variance;
            weighted += variance * variance / row.DegreesOfFreedom;
        }

        return Math.Max(1, (int)((sum * sum / weighted) + 1e-9));
    }
}
