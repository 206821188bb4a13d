namespace Acquire.Instruments.Simulation;

/// <summary>
/// The invented colour-negative control strip of all stories: nobody's real lot. The densities lie in the usual bands of a masked negative
/// (status M); common practice, no source.
/// </summary>
public static class DemoFilm
{
    /// <summary>Key of the unexposed patch.</summary>
    public const string DMin = "dmin";

    /// <summary>Key of the low-density patch.</summary>
    public const string Low = "ld";

    /// <summary>Key of the high-density patch.</summary>
    public const string High = "hd";

    /// <summary>Key of the darkest patch.</summary>
    public const string DMax = "dmax";

    /// <summary>Key of the yellow patch.</summary>
    public const string Yellow = "yellow";

    /// <summary>The patches in reading order.</summary>
    public static ImmutableArray<Patch> Patches { get; } =
    [
        new(DMin, "D-min"), new(Low, "LD"), new(High, "HD"), new(DMax, "D-max"), new(Yellow, "yellow"),
    ];

    /// <summary>The aims by key of patch.</summary>
    public static ImmutableDictionary<string, Rgb> Aims { get; } = ImmutableDictionary.CreateRange(
        StringComparer.OrdinalIgnoreCase,
        new Dictionary<string, Rgb>
        {
            [DMin] = new(0.26, 0.62, 0.80),
            [Low] = new(0.46, 0.84, 1.04),
            [High] = new(1.26, 1.74, 2.00),
            [DMax] = new(2.12, 2.58, 2.92),
            [Yellow] = new(0.37, 0.88, 2.72),
        });

    /// <summary>The correction factors of the lot, by key of patch: aim = reference strip + correction factor.</summary>
    public static ImmutableDictionary<string, Rgb> Corrections { get; } = ImmutableDictionary.CreateRange(
        StringComparer.OrdinalIgnoreCase,
        new Dictionary<string, Rgb>
        {
            [DMin] = new(0.00, 0.00, 0.01),
            [Low] = new(0.01, 0.00, -0.02),
            [High] = new(-0.01, 0.02, 0.00),
            [DMax] = new(0.00, 0.00, 0.00),
            [Yellow] = new(0.00, 0.00, 0.00),
        });

    /// <summary>
    /// Run-to-run scatter is stronger where there is more image: half again at HD (common practice, no source), little at D-min.
    /// </summary>
    internal static double RunWeight(string key) => key switch
    {
        DMin => 0.25,
        Low => 1,
        _ => 1.5,
    };
}
