using Acquire.Instruments.Simulation;

namespace PlausibilityBenchmark;

/// <summary>What a process does to a strip: a story, scaled to a multiple of the action limit, never quite alike twice.</summary>
internal static class Process
{
    // Patches and colours differ from the recipe by up to this share.
    private const double Variation = 0.4;

    /// <summary>The true densities of one strip.</summary>
    /// <param name="onAim">Of the lot.</param>
    /// <param name="story">The fault.</param>
    /// <param name="limits">How many action limits the worst parameter is off; 0 is in order.</param>
    /// <param name="noise">The scatter.</param>
    /// <param name="random">Where chance comes from.</param>
    public static FilmStrip Strip(ImmutableDictionary<string, Rgb> onAim, FilmStory story, double limits, FilmNoise noise, Random random)
    {
        var factor = limits == 0 ? 0 : limits / Worst(story);
        var moved = story with
        {
            Noise = noise,
            Patches = [.. story.Patches.Select(p => p with { OnAim = onAim[p.Patch.Key], Effect = factor * Varied(p.Effect, random) })],
        };
        return moved.Strip(random.Next(), 0);
    }

    // The recipe's worst parameter, in action limits: D-min +0.03, LD ±0.06, HD − LD ±0.07, D-max B − yellow B +0.10 (the shipped sheet's).
    private static double Worst(FilmStory story)
    {
        var effect = story.Patches.ToDictionary(p => p.Patch.Key, p => p.Effect);
        var contrast = effect[DemoFilm.High] - effect[DemoFilm.Low];
        return new[]
        {
            Largest(effect[DemoFilm.DMin]) / 0.03,
            Size(effect[DemoFilm.Low]) / 0.06,
            Size(contrast) / 0.07,
            (effect[DemoFilm.DMax].Blue - effect[DemoFilm.Yellow].Blue) / 0.10,
        }.Max();
    }

    private static double Largest(Rgb rgb) => Math.Max(rgb.Red, Math.Max(rgb.Green, rgb.Blue));

    private static double Size(Rgb rgb) => Math.Max(Largest(rgb), Largest(-1 * rgb));

    private static Rgb Varied(Rgb effect, Random random) =>
        new(effect.Red * Factor(random), effect.Green * Factor(random), effect.Blue * Factor(random));

    private static double Factor(Random random) => 1 + (Variation * ((2 * random.NextDouble()) - 1));
}
