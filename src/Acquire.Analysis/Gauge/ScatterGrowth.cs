namespace Acquire.Analysis.Gauge;

/// <summary>
/// How much more reads scatter at higher densities: k of s(D)² = σ² (1 + k² D²), one for all channels of an instrument, as the median of
/// what its repeats leave open. Repeats of one density tell nothing of it, and then k is about the assumed one.
/// </summary>
internal static class ScatterGrowth
{
    private const int Steps = 80;
    private const double Step = 0.05;

    /// <summary>(s(D) / s(0))².</summary>
    public static double Factor(double growth, double density) => 1 + (growth * growth * density * density);

    /// <summary>
    /// The posterior median of k on a grid from 0 to 4: a half-Cauchy prior of the assumed median, whose long tail does not hold a steep
    /// instrument down, times the likelihood of the variances, each a χ² by its degrees of freedom, with every channel's σ integrated out.
    /// </summary>
    public static double Of(ImmutableArray<PatchRepeats> repeats, Assumptions assumptions)
    {
        // Many patches of about one density are one, so that a store of thousands of strips costs no more than a few.
        var groups = repeats.Where(r => r.Density is not null)
            .GroupBy(r => (r.Channel, Bin: Math.Round(Math.Max(r.Density!.Value, 0), 1)))
            .Select(g => (
                g.Key.Channel,
                Density: g.Sum(r => r.DegreesOfFreedom * r.Density!.Value) / g.Sum(r => r.DegreesOfFreedom),
                Squares: g.Sum(r => r.DegreesOfFreedom * r.StandardDeviation * r.StandardDeviation),
                Freedom: g.Sum(r => r.DegreesOfFreedom)))
            .GroupBy(g => g.Channel)
            .Where(c => c.Any(g => g.Squares > 0))
            .Select(c => c.ToArray())
            .ToArray();
        if (groups.Length == 0 || assumptions.Growth <= 0)
        {
            return Math.Max(assumptions.Growth, 0);
        }

        var logs = Enumerable.Range(0, Steps + 1).Select(i => i * Step)
            .Select(k => groups.Sum(c => LogLikelihood(c, k, assumptions)) - Math.Log(1 + Math.Pow(k / assumptions.Growth, 2)))
            .ToArray();
        var most = logs.Max();
        var shares = logs.Select(l => Math.Exp(l - most)).ToArray();
        var (half, sum) = (shares.Sum() / 2, 0.0);
        for (var i = 0; i < shares.Length; i++)
        {
            if (sum + shares[i] >= half)
            {
                // Within the step, each place in it being as likely; the first begins at 0.
                return Math.Max(0, i - 0.5 + ((half - sum) / shares[i])) * Step;
            }

            sum += shares[i];
        }

        return Steps * Step;
    }

    private static double LogLikelihood(
        (Channel Channel, double Density, double Squares, double Freedom)[] groups, double growth, Assumptions assumptions)
    {
        var freedom = groups.Sum(g => g.Freedom);
        var assumed = assumptions.Weight(freedom) * assumptions.RepeatabilityFreedom;
        var squares =
            groups.Sum(g => g.Squares / Factor(growth, g.Density)) + (assumed * assumptions.Repeatability * assumptions.Repeatability);
        return -0.5 * (groups.Sum(g => g.Freedom * Math.Log(Factor(growth, g.Density))) + ((freedom + assumed) * Math.Log(squares)));
    }
}
