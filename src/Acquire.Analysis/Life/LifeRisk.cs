namespace Acquire.Analysis.Life;

/// <summary>An age in days with its 95 % interval.</summary>
/// <param name="Lower">0 where the limit may have been reached before the youngest strip.</param>
public sealed record LifeSpan(double Estimate, double Lower, double Upper)
{
    /// <summary>Chance left out at either end.</summary>
    internal const double Tail = 0.025;

    /// <summary>The same span from an age on.</summary>
    public LifeSpan From(double ageDays) => new(Estimate - ageDays, Lower - ageDays, Upper - ageDays);
}

/// <summary>The chance that the mean has reached a limit, by age: it begins with the youngest strips, as none tells of what was before.
/// </summary>
/// <param name="Ages">Days, rising.</param>
/// <param name="Chances">0 … 1, never falling: what was reached stays reached.</param>
public sealed record LifeRisk(ImmutableArray<double> Ages, ImmutableArray<double> Chances)
{
    /// <summary>No age so many times the oldest strip's is ever named.</summary>
    private const double Farthest = 4;

    private const int StepsSeen = 24;

    private const int StepsBeyond = 36;

    /// <summary>Ages at which to look: evenly among those seen, and ever wider beyond.</summary>
    public static ImmutableArray<double> Grid(double youngest, double oldest) =>
    [
        .. Enumerable.Range(0, StepsSeen).Select(i => youngest + ((oldest - youngest) * i / StepsSeen)),
        .. Enumerable.Range(0, StepsBeyond + 1).Select(i => oldest * Math.Pow(Farthest, i / (double)StepsBeyond)),
    ];

    /// <summary>The chance at each age, from what is outside there.</summary>
    public static LifeRisk Of(ImmutableArray<double> ages, Func<double, double> outside)
    {
        var chances = ImmutableArray.CreateBuilder<double>(ages.Length);
        foreach (var age in ages)
        {
            chances.Add(Math.Max(chances.Count > 0 ? chances[^1] : 0, outside(age)));
        }

        return new LifeRisk(ages, chances.MoveToImmutable());
    }

    /// <summary>The chance that one at least of several has got there, as if they went by themselves: no smaller than it is where they go
    /// together.</summary>
    public static LifeRisk AnyOf(IReadOnlyList<LifeRisk> risks) => risks[0] with
    {
        Chances = [.. risks[0].Ages.Select((_, i) => 1 - risks.Aggregate(1.0, (none, r) => none * (1 - r.Chances[i])))],
    };

    /// <summary>The chance of the surest of several: that one of them has got there is no less likely.</summary>
    public static LifeRisk SurestOf(IReadOnlyList<LifeRisk> risks) => risks[0] with
    {
        Chances = [.. risks[0].Ages.Select((_, i) => risks.Max(r => r.Chances[i]))],
    };

    /// <summary>The chance by an age, and no more beyond it.</summary>
    public LifeRisk Until(double age)
    {
        var last = Chances[Math.Max(0, Ages.Count(a => a <= age + 1e-9) - 1)];
        return this with { Chances = [.. Chances.Select((c, i) => Ages[i] <= age + 1e-9 ? c : last)] };
    }

    /// <summary>
    /// The age at which the chance is first so large; 0 when it is so from the youngest strips on, null when it never is.
    /// </summary>
    public double? Reaches(double chance)
    {
        var i = 0;
        while (i < Chances.Length && Chances[i] < chance)
        {
            i++;
        }

        return i == Chances.Length ? null
            : i == 0 ? 0
            : Ages[i - 1] + ((Ages[i] - Ages[i - 1]) * (chance - Chances[i - 1]) / (Chances[i] - Chances[i - 1]));
    }

    /// <summary>The span in which the limit is reached; null where the chance that it is never reached is more than the interval leaves
    /// out.</summary>
    public LifeSpan? Span() =>
        (Reaches(LifeSpan.Tail), Reaches(0.5), Reaches(1 - LifeSpan.Tail)) is ({ } lower, > 0 and { } estimate, { } upper)
            ? new LifeSpan(estimate, lower, upper)
            : null;
}
