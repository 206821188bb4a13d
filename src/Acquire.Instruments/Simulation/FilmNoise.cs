namespace Acquire.Instruments.Simulation;

/// <summary>The scatter of a simulated process and instrument: standard deviations in density.</summary>
/// <remarks>The figures are plausible for a small lab and a bench densitometer; common practice, no source.</remarks>
public sealed record FilmNoise
{
    /// <summary>No scatter at all.</summary>
    public static FilmNoise None { get; } = new() { Run = 0, Placement = 0, Reading = 0 };

    /// <summary>From strip to strip at one state of the process, the same in the three colours; weighted by patch. Default 0.012.</summary>
    public double Run { get; init; } = 0.012;

    /// <summary>From one placing of the strip to the next, the same in the three colours. Default 0.006.</summary>
    public double Placement { get; init; } = 0.006;

    /// <summary>Of each channel of each reading. Default 0.006.</summary>
    public double Reading { get; init; } = 0.006;

    /// <summary>The standard deviation of re-placed readings of one patch in one channel, rounding not counted.</summary>
    public double Repeatability => Math.Sqrt((Placement * Placement) + (Reading * Reading));
}
