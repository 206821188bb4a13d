namespace Acquire.Analysis.Life;

/// <summary>How a parameter may go with age.</summary>
public enum LifeBend
{
    /// <summary>By the same amount every day.</summary>
    Straight,

    /// <summary>Not at all until a day, then by the same amount every day.</summary>
    Hinge,

    /// <summary>Ever slower, to a rest.</summary>
    Plateau,

    /// <summary>Faster and faster.</summary>
    Accelerating,
}

/// <summary>A way of going with age by its shape alone; how far it goes is fitted.</summary>
/// <param name="Days">The day at which a hinge lies, or the days in which a plateau or an acceleration gets on by a factor of e; 0 for
/// a straight way.</param>
/// <param name="Prior">Weight before any strip; those of all ways make 1.</param>
public sealed record LifeShape(LifeBend Bend, double Days, double Prior)
{
    /// <summary>The straight way alone.</summary>
    public static LifeShape Straight { get; } = new(LifeBend.Straight, 0, 1);

    /// <summary>The ways that are held against each other. Places and weights are judgement, no source: the straight way is thought as
    /// likely as two of the bent ones together, and a bend may lie anywhere among the ages seen.</summary>
    public static ImmutableArray<LifeShape> Among(double youngest, double oldest)
    {
        (LifeBend Bend, double Prior, double[] Days)[] ways =
        [
            (LifeBend.Straight, 0.4, [0]),
            (LifeBend.Hinge, 0.2, [.. Enumerable.Range(1, 4).Select(i => youngest + (0.2 * i * (oldest - youngest)))]),
            (LifeBend.Plateau, 0.2, [0.15 * oldest, 0.35 * oldest, 0.7 * oldest]),
            (LifeBend.Accelerating, 0.2, [0.3 * oldest, 0.6 * oldest, 1.2 * oldest]),
        ];
        return [.. ways.SelectMany(w => w.Days.Select(d => new LifeShape(w.Bend, d, w.Prior / w.Days.Length)))];
    }

    /// <summary>How far the way has got at an age, in days of its own.</summary>
    public double At(double ageDays) => Bend switch
    {
        LifeBend.Hinge => Math.Max(0, ageDays - Days),
        LifeBend.Plateau => Days * (1 - Math.Exp(-ageDays / Days)),
        LifeBend.Accelerating => Days * (Math.Exp(ageDays / Days) - 1),
        _ => ageDays,
    };

    /// <summary>The way in words.</summary>
    public string Word => Bend switch
    {
        LifeBend.Hinge => string.Create(CultureInfo.InvariantCulture, $"nothing until about day {Days:0}, then steadily"),
        LifeBend.Plateau => "ever slower",
        LifeBend.Accelerating => "faster and faster",
        _ => "steadily",
    };
}
