namespace Acquire.Analysis.Statistics;

/// <summary>One standard deviation out of several groups that share it: the repeatability of an instrument over patches.</summary>
/// <param name="StandardDeviation">Root of the mean variance, each group weighted by its degrees of freedom.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of all groups together, 1 at least.</param>
public readonly record struct PooledDeviation(double StandardDeviation, int DegreesOfFreedom)
{
    /// <summary>Pools groups: s² = Σ νᵢ sᵢ² / Σ νᵢ (NIST/SEMATECH e-Handbook 2.4.4.1).</summary>
    /// <param name="groups">Standard deviation and degrees of freedom of each group; groups of no freedom tell nothing.</param>
    /// <returns>The pooled deviation; null when no group has a degree of freedom.</returns>
    public static PooledDeviation? Of(IEnumerable<(double StandardDeviation, int DegreesOfFreedom)> groups)
    {
        var squares = default(CompensatedSum);
        var freedom = 0;
        foreach (var (deviation, degrees) in groups.Where(g => g.DegreesOfFreedom > 0))
        {
            squares.Add(degrees * deviation * deviation);
            freedom += degrees;
        }

        return freedom > 0 ? new PooledDeviation(Math.Sqrt(squares.Value / freedom), freedom) : null;
    }
}
