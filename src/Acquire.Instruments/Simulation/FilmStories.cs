namespace Acquire.Instruments.Simulation;

/// <summary>The stories that are shipped. All are invented, of one place: a community college's darkroom with a dip tank for the evening
/// class and a bench-top machine for staff. The sizes of the effects are plausible recipes; common practice, no source.</summary>
public static class FilmStories
{
    /// <summary>The maker's reference strip of the lot: the aims less the correction factors, with the instrument's scatter only.</summary>
    public static FilmStory Reference { get; } =
        Tell("reference", "The maker's reference strip", 0, 0, key => (Rgb.All(0) - DemoFilm.Corrections[key], Rgb.All(0))) with
        {
            Noise = new FilmNoise { Run = 0 },
        };

    /// <summary>A process in order.</summary>
    public static FilmStory OnAim { get; } = Tell("on-aim", "Dip tank with fresh solutions, in order", 0, 0, _ => (Rgb.All(0), Rgb.All(0)));

    /// <summary>Developer kept in a half-full bottle, 22 days old: the action limit of
    /// HD − LD is passed in red and blue at about day 20.</summary>
    public static FilmStory HalfFullBottle { get; } = Tell(
        "half-full-bottle", "Dip tank with developer that stood 22 days in a half-full bottle", 22, 0, key => (Rgb.All(0), Oxidation(key)));

    /// <summary>The same developer kept in full small bottles, which ages at a quarter of that rate.</summary>
    public static FilmStory FullBottles { get; } = Tell(
        "full-bottles", "Dip tank with developer that stood 22 days in full small bottles", 22, 0, key =>
            (Rgb.All(0), 0.25 * Oxidation(key)));

    /// <summary>Fixer splashed into the developer: D-min far up, blue most.</summary>
    public static FilmStory FixerInDeveloper { get; } = Tell(
        "fixer-in-developer", "Bench-top machine after fixer got into the developer", 0, 0, key => (Contamination(key), Rgb.All(0)));

    /// <summary>A bleach that is used up leaves silver: D-max blue less yellow
    /// blue up, and contrast seems up in all colours alike.</summary>
    public static FilmStory BleachDying { get; } = Tell(
        "bleach-dying", "Bench-top machine with a bleach that is used up", 28, 1, key => (Rgb.All(0), 1 / 28.0 * RetainedSilver(key)));

    public static ImmutableArray<FilmStory> All { get; } = [Reference, OnAim, HalfFullBottle, FullBottles, FixerInDeveloper, BleachDying];

    /// <summary>Finds a story by its name, in any case.</summary>
    /// <exception cref="ArgumentException">There is no such story; the message lists those that there are.</exception>
    public static FilmStory Get(string name) =>
        All.FirstOrDefault(s => string.Equals(s.Name, name, StringComparison.OrdinalIgnoreCase))
        ?? throw new ArgumentException(
            $"There is no film story '{name}'; there are {string.Join(", ", All.Select(s => s.Name))}.", nameof(name));

    // Per day. HD − LD falls by 0.0035, 0.0025, 0.0035; LD by 0.0015; D-min blue rises by 0.0008. D-max and yellow blue fall alike.
    private static Rgb Oxidation(string key) => key switch
    {
        DemoFilm.DMin => new(0, 0, 0.0008),
        DemoFilm.Low => Rgb.All(-0.0015),
        DemoFilm.Yellow => new(0, 0, -0.0050),
        _ => new(-0.0050, -0.0040, -0.0050),
    };

    private static Rgb Contamination(string key) => key switch
    {
        DemoFilm.DMin => new(0.06, 0.08, 0.11),
        DemoFilm.Low => Rgb.All(0.07),
        DemoFilm.High => Rgb.All(0.10),
        _ => new(0.06, 0.08, 0.10),
    };

    // After four weeks: HD − LD +0.05 alike, D-max blue less yellow blue +0.14.
    private static Rgb RetainedSilver(string key) => key switch
    {
        DemoFilm.DMin => Rgb.All(0.005),
        DemoFilm.Low => Rgb.All(0.02),
        DemoFilm.High => Rgb.All(0.07),
        DemoFilm.DMax => Rgb.All(0.18),
        _ => Rgb.All(0.04),
    };

    private static FilmStory Tell(
        string name, string title, double age, double daysPerStrip, Func<string, (Rgb Effect, Rgb PerDay)> effect) => new(
        name, title,
        [.. DemoFilm.Patches.Select(
            p => new FilmPatch(p, DemoFilm.Aims[p.Key], effect(p.Key).Effect, effect(p.Key).PerDay, DemoFilm.RunWeight(p.Key)))],
        age, daysPerStrip, new FilmNoise());
}

/// <summary>The invented colour-negative control strip of all stories: nobody's real lot. The densities lie in the usual bands of a
/// masked negative (status M); common practice, no source.</summary>
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
    [new(DMin, "D-min"), new(Low, "LD"), new(High, "HD"), new(DMax, "D-max"), new(Yellow, "yellow")];

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

    /// <summary>Run-to-run scatter is stronger where there is more image: half again
    /// at HD (common practice, no source), little at D-min.</summary>
    internal static double RunWeight(string key) => key switch
    {
        DMin => 0.25,
        Low => 1,
        _ => 1.5,
    };
}
