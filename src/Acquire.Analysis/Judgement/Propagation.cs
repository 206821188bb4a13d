namespace Acquire.Analysis.Judgement;

/// <summary>Carries the variances of independent inputs through a function, to first order (GUM, JCGM 100:2008, 5.1.2).</summary>
internal static class Propagation
{
    /// <summary>
    /// Far above the rounding of binary arithmetic, far below any display step. Where the function has a corner, the
    /// central difference takes the mean of both sides.
    /// </summary>
    private const double Step = 1e-6;

    /// <summary>
    /// The derivative by each input, by central differences, one-sided at the end of what can be computed; null where there is none.
    /// </summary>
    public static ImmutableArray<double?> Derivatives(Func<ImmutableArray<double>, double?> function, ImmutableArray<double> at)
    {
        var centre = function(at);
        return [.. at.Select((x, i) =>
        {
            var (below, above) = (function(at.SetItem(i, x - Step)), function(at.SetItem(i, x + Step)));
            return (below, above) switch
            {
                ({ } b, { } a) => (a - b) / (2 * Step),
                ({ } b, null) => (centre - b) / Step,
                (null, { } a) => (a - centre) / Step,
                _ => null,
            };
        })];
    }

    /// <summary>The variance of the function's value; null where a derivative or a variance that matters is unknown.</summary>
    public static double? Variance(ImmutableArray<double?> derivatives, IEnumerable<double?> variances) =>
        derivatives.Zip(variances).Aggregate(
            (double?)0, (sum, term) => term.First == 0 ? sum : sum + (term.First * term.First * term.Second));
}
