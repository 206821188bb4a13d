using Acquire.Instruments.Simulation;
using static PlausibilityBenchmark.Draw;

namespace PlausibilityBenchmark;

/// <summary>Film that was truly ruined, or pushed, and read rightly. The recipes are rough; common practice, no source.</summary>
internal static class RuinedFilms
{
    public static ImmutableArray<(string Name, Func<Random, Tampering> Make)> All { get; } =
    [
        ("dead developer", r => Laid(r, Between(r, 0.05, 0.45), 0)),
        ("pushed by one or two stops", r => Laid(r, Between(r, 1.1, 1.4), Between(r, 0.01, 0.08))),
        ("bleach skipped", Silver),
        ("fogged by light", Fogged),
    ];

    // So much of the image, not quite alike in the colours, above a veil.
    private static Tampering Laid(Random random, double share, double veil)
    {
        var layers = new Rgb(Near(random, share), Near(random, share), Near(random, share));
        return Film((clear, image) => clear + Rgb.All(veil)
            + new Rgb(layers.Red * image.Red, layers.Green * image.Green, layers.Blue * image.Blue));
    }

    private static Tampering Silver(Random random)
    {
        var share = Between(random, 0.3, 0.7);
        return Film((clear, image) => clear + image + Rgb.All(share * (image.Red + image.Green + image.Blue) / 3));
    }

    // Fog spends some of the silver that the image would have had.
    private static Tampering Fogged(Random random)
    {
        var fog = new Rgb(Near(random, 1), Near(random, 1), Near(random, 1));
        var size = Between(random, 0.1, 0.7);
        return Film((clear, image) => clear + image + new Rgb(
            size * fog.Red * Math.Exp(-1.5 * image.Red), size * fog.Green * Math.Exp(-1.5 * image.Green),
            size * fog.Blue * Math.Exp(-1.5 * image.Blue)));
    }

    private static Tampering Film(Func<Rgb, Rgb, Rgb> made) => new()
    {
        Show = s =>
        {
            var clear = s.Strip.Densities[DemoFilm.DMin];
            var patch = s.Strip.Densities[DemoFilm.Patches[s.Slot].Key];
            return made(clear, patch - clear) + s.Rgb - patch;
        },
    };

    private static double Near(Random random, double share) => share * Between(random, 0.93, 1.07);
}
