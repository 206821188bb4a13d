namespace Acquire.Analysis.Gauge;

/// <summary>
/// What is taken for granted of an instrument of which nothing is known yet. It gives way as the instrument's own repeats come, and
/// wherever a number rests on it, that is said. All defaults are common practice, no source; they were chosen so that verdicts keep their
/// word for an instrument that repeats to 0.010.
/// </summary>
public sealed record Assumptions
{
    public static Assumptions Default { get; } = new();

    /// <summary>Standard deviation of one re-placed read at density 0. Default 0.010.</summary>
    public double Repeatability { get; init; } = 0.010;

    /// <summary>
    /// How many degrees of freedom that is worth: few, since instruments differ. Default 5.
    /// </summary>
    public double RepeatabilityFreedom { get; init; } = 5;

    /// <summary>
    /// How the scatter grows with density: a share of the reading beside an absolute part, s(D)² = s² (1 + k² D²), as instruments of the
    /// kind are commonly specified. Median of k before anything is known. Default 0.45: half as much again at density 2.5.
    /// </summary>
    public double Growth { get; init; } = 0.45;

    /// <summary>Degrees of freedom of own repeats at which the assumption has no weight any more. Default 10.</summary>
    public double EnoughFreedom { get; init; } = 10;

    /// <summary>Half of the width within which the zero is set anew: any place in it is as likely as any other. Default 0.0125.</summary>
    public double Zero { get; init; } = 0.0125;

    /// <summary>Standard uncertainty of one setting of the zero: a rectangular distribution (GUM, JCGM 100:2008, 4.3.7).</summary>
    public double ZeroUncertainty => Zero / Math.Sqrt(3);

    /// <summary>How many degrees of freedom that is worth: known to about a quarter (GUM, JCGM 100:2008, G.4.2). Default 8.</summary>
    public double ZeroFreedom { get; init; } = 8;

    /// <summary>What most instruments of the kind repeat to; used only to say what a test may change. Default 0.005.</summary>
    public double UsualRepeatability { get; init; } = 0.005;

    /// <summary>Weight of the assumption beside so many degrees of freedom of own repeats, 1 … 0.</summary>
    public double Weight(double ownFreedom) => Math.Clamp(1 - (ownFreedom / EnoughFreedom), 0, 1);
}

/// <summary>What of a result rests on an assumption.</summary>
[Flags]
public enum Assumed
{
    None = 0,

    /// <summary>How reads repeat.</summary>
    Repeatability = 1,

    /// <summary>How far the zero moves when it is set anew.</summary>
    Zero = 2,
}
