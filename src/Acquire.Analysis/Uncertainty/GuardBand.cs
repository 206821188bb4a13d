using MathNet.Numerics.Integration;
using MathNet.Numerics.RootFinding;

namespace Acquire.Analysis.Uncertainty;

/// <summary>A limit as a rule for what was measured: where "in control" and "out of control" can be said with the probability asked for
/// (JCGM 106:2012, clause 8). Deviations, in the unit of the parameter.</summary>
/// <param name="Limit">The limit of the true deviation.</param>
/// <param name="StandardUncertainty">u of the deviation.</param>
/// <param name="Level">Probability asked for.</param>
/// <param name="AcceptFrom">Least measured deviation that is "in"; null when the limit has no such side, or nothing is.</param>
/// <param name="AcceptTo">Largest measured deviation that is "in".</param>
/// <param name="AcceptsNothing">Whether u is too large for the limit: no measured deviation would be "in".</param>
/// <param name="RejectBelow">At this measured deviation and below it is "out"; null when the limit has no such side.</param>
/// <param name="RejectAbove">At this measured deviation and above it is "out".</param>
public sealed record GuardBand(
    Limit Limit, double StandardUncertainty, double Level, double? AcceptFrom, double? AcceptTo, bool AcceptsNothing, double? RejectBelow,
    double? RejectAbove)
{
    /// <summary>The expanded uncertainty that a guard band is a multiple of is U = 2 u (JCGM 106:2012, 8.3.2.4, from memory).</summary>
    public const double Expansion = 2;

    /// <summary>Width w of the guard band inside the limit; null where nothing is accepted.</summary>
    public double? Width => AcceptsNothing ? null : (Limit.Upper - AcceptTo) ?? (AcceptFrom - Limit.Lower);

    /// <summary>r of w = r · U, U = 2 u; null where nothing is accepted or u is 0.</summary>
    public double? Multiple => StandardUncertainty > 0 ? Width / (Expansion * StandardUncertainty) : null;

    /// <summary>The guard band that a level means for one limit and a well known u, as r of w = r · U.</summary>
    public static double MultipleOf(double level) => Statistics.Quantiles.Student(level, double.PositiveInfinity) / Expansion;

    /// <summary>The level that a guard band of w = r · U means for one limit and a well known u.</summary>
    public static double LevelOf(double multiple) => 1 - NormalTail(Expansion * multiple);

    /// <summary>Finds the guard band.</summary>
    /// <param name="degreesOfFreedom">Of u; infinite for the normal distribution.</param>
    /// <param name="level">Above 0.5 and below 1.</param>
    public static GuardBand Of(Limit limit, double standardUncertainty, double degreesOfFreedom, double level)
    {
        // Inside a limit the chance of being in falls from its middle, or from far inside where it has one side, outwards.
        var reach = 1e3 * (standardUncertainty + (limit.Upper ?? 0) - (limit.Lower ?? 0));
        var (low, high) = (limit.Lower ?? limit.Upper!.Value - reach, limit.Upper ?? limit.Lower!.Value + reach);
        var middle = (limit.Lower, limit.Upper) switch { (null, _) => low, (_, null) => high, _ => (low + high) / 2 };
        var nothing = Inside(middle) < level;
        return new GuardBand(
            limit, standardUncertainty, level,
            limit.Lower is null || nothing ? null : Where(level, low), limit.Upper is null || nothing ? null : Where(level, high), nothing,
            limit.Lower is null ? null : Where(1 - level, low - reach), limit.Upper is null ? null : Where(1 - level, high + reach));

        double Inside(double deviation) => Conformity.Inside(limit, deviation, standardUncertainty, degreesOfFreedom);

        double Where(double wanted, double far) => standardUncertainty == 0
            ? Math.Clamp(far, limit.Lower ?? far, limit.Upper ?? far)
            : Inside(middle) <= wanted ? middle
            : Inside(far) >= wanted ? far
            : Bisection.FindRoot(d => Inside(d) - wanted, Math.Min(middle, far), Math.Max(middle, far), standardUncertainty * 1e-9, 300);
    }

    internal static double NormalTail(double z) => z >= 0
        ? Statistics.Quantiles.StudentTail(z, double.PositiveInfinity) / 2
        : 1 - (Statistics.Quantiles.StudentTail(z, double.PositiveInfinity) / 2);
}

/// <summary>How often a rule errs over a process that goes on as it did (JCGM 106:2012, clause 9.5): true deviations scatter normally
/// about a mean, readings about the true ones.</summary>
/// <param name="Consumer">Chance that a strip's true deviation is outside the limit and it is called "in".</param>
/// <param name="Producer">Chance that it is inside and is not called "in".</param>
public sealed record GlobalRisk(double Consumer, double Producer)
{
    private const double FarOut = 8;

    private const int Nodes = 64;

    /// <param name="acceptFrom">Least measured deviation that is accepted; null for none.</param>
    /// <param name="acceptTo">Largest; null for none.</param>
    /// <param name="mean">Mean of the process, as a deviation.</param>
    /// <param name="scatter">Standard deviation of the process itself, readings not counted; above 0.</param>
    /// <param name="standardUncertainty">u of one measured deviation, above 0.</param>
    public static GlobalRisk Of(
        Limit limit, double? acceptFrom, double? acceptTo, double mean, double scatter, double standardUncertainty)
    {
        var (low, high) = (mean - (FarOut * scatter), mean + (FarOut * scatter));
        // The integrand bends over u near where it is accepted, so pieces are no longer than u or the scatter.
        double[] cuts = [.. new[] { low, limit.Lower ?? low, limit.Upper ?? high, high }.Select(c => Math.Clamp(c, low, high)).Order()];
        var (consumer, producer) = (0.0, 0.0);
        foreach (var (from, to) in cuts.Zip(cuts.Skip(1)).Where(c => c.Second > c.First))
        {
            var pieces = (int)Math.Clamp(Math.Ceiling((to - from) / (4 * Math.Min(scatter, standardUncertainty))), 1, 200);
            for (var i = 0; i < pieces; i++)
            {
                var (a, b) = (from + ((to - from) * i / pieces), from + ((to - from) * (i + 1) / pieces));
                var (all, accepted) = (Over(a, b, _ => 1), Over(a, b, Accepted));
                (consumer, producer) = limit.Holds((from + to) / 2)
                    ? (consumer, producer + all - accepted)
                    : (consumer + accepted, producer);
            }
        }

        return new GlobalRisk(consumer, producer);

        double Over(double a, double b, Func<double, double> share) => GaussLegendreRule.Integrate(
            d => MathNet.Numerics.Distributions.Normal.PDF(mean, scatter, d) * share(d), a, b, Nodes);

        double Accepted(double d) => 1
            - (acceptTo is { } t ? GuardBand.NormalTail((t - d) / standardUncertainty) : 0)
            - (acceptFrom is { } f ? GuardBand.NormalTail((d - f) / standardUncertainty) : 0);
    }
}
