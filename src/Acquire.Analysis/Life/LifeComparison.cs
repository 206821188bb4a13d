using Acquire.Analysis.Statistics;

namespace Acquire.Analysis.Life;

/// <summary>Two or more ways of keeping, lines or methods held against each other.</summary>
/// <param name="Factor">storage, line or method.</param>
/// <param name="Differences">What each way makes of the parameter against the commonest; empty when it cannot be told.</param>
/// <param name="See">The difference that is to be seen.</param>
/// <param name="Sigma">What single strips of two ways scatter by, when there is no difference.</param>
/// <param name="IsOfBottles">Whether each bottle has one way only, so that each strip must come from a bottle of its own.</param>
/// <param name="StripsOfEach">
/// Strips of each way that would show <paramref name="See"/> in four of five trials; null when no number does.
/// </param>
/// <param name="WhyNot">Why no difference can be told; null when it can.</param>
public sealed record LifeComparison(
    string Factor, ImmutableArray<LifeEffect> Differences, double See, double Sigma, bool IsOfBottles, int? StripsOfEach, string? WhyNot)
{
    /// <summary>What can be compared.</summary>
    public static ImmutableArray<string> Factors { get; } = [LifeDesign.Storage, LifeDesign.Line, LifeDesign.Method];

    /// <summary>Compares the levels of a factor in one parameter.</summary>
    /// <param name="answer">The parameter, with its model.</param>
    /// <param name="factor">One of <see cref="Factors"/>.</param>
    /// <param name="see">The difference to be seen, above 0; null for half of the action limit.</param>
    /// <exception cref="ModelException">There is no model, or all strips are of one level.</exception>
    public static LifeComparison Of(LifeAnswer answer, string factor, double? see = null)
    {
        var model = answer.Model ?? throw new ModelException(answer.Refusal ?? "There is no model to compare by.");
        var levels = model.RowLevels(factor);
        if (levels.Length < 2)
        {
            throw new ModelException(
                $"There is one {factor} only among the strips with a known age, {levels[0]}; a comparison takes strips of two.");
        }

        ImmutableArray<LifeEffect> differences = [
            .. answer.Effects.Where(e => e.Factor == factor),
            .. answer.Effects.Where(e => factor == LifeDesign.Storage && e.Factor == LifeDesign.Ageing)];
        var between = model.Fit.Ratio > 0 && model.IsBetweenBottles(factor);
        var sigma = model.ResidualDeviation * Math.Sqrt(between ? 1 + model.Fit.Ratio : 1);
        var wanted = see ?? answer.LimitWidth / 2;
        return new LifeComparison(
            factor, differences, wanted, sigma, between, Power.StripsOfEach(wanted, sigma), differences.IsEmpty
                ? string.Join(' ', model.LeftOut)
                : null);
    }

    /// <summary>Every factor that the strips have two levels of or more.</summary>
    public static ImmutableArray<LifeComparison> All(LifeAnswer answer, double? see = null)
    {
        return answer.Model is not { } model ? [] : [.. Factors.Where(f => model.RowLevels(f).Length > 1).Select(f => Of(answer, f, see))];
    }
}

/// <summary>How many strips a comparison of two methods takes.</summary>
public static class Power
{
    /// <summary>More strips of each method than this are no plan.</summary>
    public const int Most = 1000;

    /// <summary>Strips of each method so that a difference is found, at 5 % on both sides, in four of five
    /// trials: n ≥ 2 s² (t₀.₉₇₅ + t₀.₈)² / δ², with the degrees of freedom of n (W. G. Cochran and G. M.
    /// Cox, <i>Experimental Designs</i>, 1957; from memory).</summary>
    /// <param name="difference">The difference to be seen, above 0.</param>
    /// <param name="sigma">Standard deviation from strip to strip.</param>
    /// <param name="power">Share of trials that are to find it.</param>
    /// <returns>2 … <see cref="Most"/>; null when not even that many would do.</returns>
    public static int? StripsOfEach(double difference, double sigma, double power = 0.8)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(difference);
        for (var n = 2; n <= Most; n++)
        {
            var freedom = (2 * n) - 2;
            var reach = Quantiles.Student(0.975, freedom) + Quantiles.Student(power, freedom);
            if (n >= 2 * sigma * sigma * reach * reach / (difference * difference))
            {
                return n;
            }
        }

        return null;
    }
}
