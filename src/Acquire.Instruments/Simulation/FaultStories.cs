namespace Acquire.Instruments.Simulation;

/// <summary>A story for each fault of a colour-negative process, at a size that is met when nobody looks for a while.
/// Invented recipes in the directions that the trade agrees on; common practice, no source. They are for benchmarks;
/// the demonstrations are in <see cref="FilmStories"/>.</summary>
public static class FaultStories
{
    public static ImmutableArray<FilmStory> All { get; } =
    [
        // D-min, LD, HD − LD; D-max and yellow where they do not follow from these.
        Tell("hot-developer", new(0.004, 0.006, 0.014), new(0.050, 0.055, 0.060), new(0.065, 0.085, 0.080)),
        Tell("cold-developer", new(0, -0.002, -0.010), new(-0.065, -0.055, -0.052), new(-0.100, -0.075, -0.070)),
        Tell("over-time", new(0, 0.002, 0.012), new(0.030, 0.032, 0.032), new(0.060, 0.062, 0.058)),
        Tell("under-time", new(0, 0, 0), new(-0.030, -0.034, -0.034), new(-0.070, -0.060, -0.055)),
        Tell("exhausted", new(-0.006, -0.006, -0.003), new(-0.070, -0.060, -0.060), new(-0.090, -0.065, -0.060)),
        Tell("oxidised", new(0, 0, 0.018), new(-0.033, -0.033, -0.033), new(-0.077, -0.055, -0.077)),
        Tell("over-concentrated", new(0.015, 0.012, 0.020), new(0.040, 0.045, 0.050), new(0.080, 0.075, 0.085)),
        Tell("over-diluted", new(0, 0, 0), new(-0.025, -0.020, -0.018), new(-0.080, -0.070, -0.065)),
        Tell("over-replenished", new(0.012, 0.012, 0.018), new(0.070, 0.070, 0.065), new(0.060, 0.065, 0.055)),
        Tell("under-replenished", new(0, -0.002, -0.002), new(-0.070, -0.062, -0.060), new(-0.065, -0.060, -0.058)),
        Tell("high-ph", new(0.016, 0.014, 0.020), new(0.022, 0.018, 0.020), new(0.085, 0.060, 0.050)),
        Tell("low-ph", new(0, 0, 0), new(-0.022, -0.018, -0.016), new(-0.085, -0.050, -0.050)),
        Tell("poor-agitation", new(0, 0, 0), new(-0.028, -0.020, -0.018), new(-0.085, -0.055, -0.048)),
        Tell("excess-agitation", new(0.006, 0.003, 0.008), new(0.020, 0.025, 0.022), new(0.050, 0.040, 0.038)),
        Tell("bleach-in-developer", new(0.045, 0.055, 0.090), new(0.040, 0.045, 0.070), new(0.030, 0.020, 0.020)),
        Tell("fixer-in-developer", new(0.060, 0.080, 0.110), new(0.065, 0.070, 0.075), new(0.030, 0.030, 0.025)),
        Tell("acid-in-developer", new(0, 0, 0), new(-0.070, -0.065, -0.060), new(-0.075, -0.070, -0.070)),
        Tell("retained-silver", Rgb.All(0.008), Rgb.All(0.025), Rgb.All(0.060), Rgb.All(0.175), Rgb.All(0.045)),
        Tell("leuco-cyan", new(0, 0, 0), new(-0.012, 0, 0), new(-0.080, 0, 0), new(-0.150, 0, 0), new(0, 0, 0)),
        Tell(
            "bleach-fix-used-up", Rgb.All(0.014), new(0.012, 0.020, 0.020), new(0.020, 0.050, 0.048),
            new(0.060, 0.120, 0.130), Rgb.All(0.025)),
        Tell(
            "exhausted-fixer", new(0.045, 0.055, 0.095), new(0.045, 0.050, 0.085), new(-0.005, -0.005, -0.010),
            new(0.040, 0.045, 0.085), new(0.040, 0.050, 0.055)),
        Tell("sensitising-dye", new(0.016, 0.030, 0.002), new(0.014, 0.026, 0.002), new(0, 0, 0)),
        Tell("poor-wash", new(0.004, 0.016, 0.028), new(0.004, 0.016, 0.024), new(0, 0, 0)),
        Tell(
            "light-fog", new(0.085, 0.075, 0.065), new(0.050, 0.045, 0.040), new(-0.060, -0.055, -0.050), new(0, 0, 0),
            new(0.075, 0.060, 0)),
        Tell("age-fog", new(0.032, 0.038, 0.046), new(-0.010, -0.010, -0.008), new(-0.020, -0.018, -0.022)),
        Tell("latent-image-loss", new(0.014, 0.016, 0.016), new(-0.070, -0.065, -0.060), new(-0.012, -0.010, -0.010)),
    ];

    private static FilmStory Tell(string name, Rgb dmin, Rgb low, Rgb contrast, Rgb? dmax = null, Rgb? yellow = null)
    {
        var dark = dmax ?? (low + contrast);
        return FilmStories.OnAim with
        {
            Name = name,
            Title = name.Replace('-', ' '),
            Patches = [.. FilmStories.OnAim.Patches.Select(p => p with { Effect = Effect(p.Patch.Key) })],
        };

        Rgb Effect(string key) => key switch
        {
            DemoFilm.DMin => dmin,
            DemoFilm.Low => low,
            DemoFilm.High => low + contrast,
            DemoFilm.DMax => dark,
            _ => yellow ?? new Rgb((dmin.Red + low.Red) / 2, (dmin.Green + low.Green) / 2, dark.Blue),
        };
    }
}
