using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Gauge;

/// <summary>Intervals of shares of variation and of the densities told apart: ratios of sums of variance components, each 0 at least.
/// </summary>
internal sealed class CrossedShares
{
    private const int Patch = 1;

    private readonly double[] _reads;
    private readonly Dictionary<int, double[]> _effects;
    private readonly double[] _gauge;

    /// <param name="least">Variance that no display tells less of, which is in repeatability at least.</param>
    public CrossedShares(CrossedVariance used, double least)
    {
        var draws = PivotDraws.Of(used);
        _reads = Array.ConvertAll(draws.Of(new MeanSquares([(1, used.Residual, 0)])), v => Math.Max(least, v));
        _effects = used.Effects.ToDictionary(e => e.Factors, e => Array.ConvertAll(draws.Of(e.Component), v => Math.Max(0, v)));
        _gauge = [.. _reads.Select((r, i) => r + Sum(i, f => f != Patch))];
    }

    /// <summary>A part with the interval of its share.</summary>
    public CrossedPart Add(CrossedPart part)
    {
        if (part.ShareOfVariation is not { } share)
        {
            return part;
        }

        var (low, high) = PivotDraws.Interval(i => Math.Sqrt(Of(part, i) / (_gauge[i] + _effects[Patch][i])));
        return part with { ShareInterval = (Math.Min(low, share), Math.Max(high, share)) };
    }

    /// <summary>How many densities are told apart; null where nothing but the patches may scatter.</summary>
    public (int Low, int High)? Categories()
    {
        var (low, high) = PivotDraws.Interval(i => _effects[Patch][i] / _gauge[i]);
        return double.IsNaN(low) || double.IsNaN(high) ? null : (Whole(Math.Sqrt(low)), Whole(Math.Sqrt(high)));
    }

    /// <summary>1.41 times a ratio of standard deviations, cut to a whole number.</summary>
    public static int Whole(double ratio) => (int)Math.Min(1e6, Math.Floor(Math.Sqrt(2) * ratio));

    private double Of(CrossedPart part, int draw) => part.Kind switch
    {
        PartKind.Repeatability => _reads[draw],
        PartKind.Effect => _effects[part.Factors][draw],
        PartKind.Reproducibility => Sum(draw, f => f != Patch),
        PartKind.Gauge => _gauge[draw],
        PartKind.Patch => _effects[Patch][draw],
        _ => _gauge[draw] + _effects[Patch][draw],
    };

    private double Sum(int draw, Func<int, bool> which)
    {
        var sum = 0.0;
        foreach (var (factors, values) in _effects)
        {
            sum += which(factors) ? values[draw] : 0;
        }

        return sum;
    }
}
