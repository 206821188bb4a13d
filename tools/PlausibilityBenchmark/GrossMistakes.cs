using Acquire.Analysis.Plausibility;
using Acquire.Instruments.Simulation;
using static PlausibilityBenchmark.Draw;

namespace PlausibilityBenchmark;

/// <summary>Mistakes that should be caught and named at once.</summary>
internal static class GrossMistakes
{
    private static readonly int Patches = DemoFilm.Patches.Length;

    // Of film that has no mask: the colours lie close together in every patch.
    private static readonly double[] Neutrals = [0.08, 0.30, 1.10, 1.95, 0.60];

    public static ImmutableArray<Mistake> All { get; } =
    [
        new("second read elsewhere", [SuspicionKind.SpreadOfRepeats], r => Stray(r, 1)),
        new("third read elsewhere", [SuspicionKind.Outlier], r => Stray(r, 2)),
        new("double trigger", [SuspicionKind.DoubleTrigger], r => new Tampering { Echo = (r.Next(Patches), r.Next(1, Trial.Reads)) }),
        new("double trigger, next patch", [SuspicionKind.DoubleTrigger], r => new Tampering { Echo = (r.Next(1, Patches), 0) }),
        new("relative mode", [SuspicionKind.RelativeMode], Relative),
        new("patches exchanged, at end", [SuspicionKind.NeutralOrder], r => Exchange(r, 1)) { AtEnd = true },
        new("patches exchanged, not neighbours", [SuspicionKind.NeutralOrder], r => Exchange(r, 2)),
        new("film without mask", [SuspicionKind.ColourOrder], Unmasked),
        new("previous patch again", [SuspicionKind.PreviousPatchAgain], r => At(r.Next(1, Patches), -1)),
        new("next patch", [SuspicionKind.OffByOneStep], r => At(r.Next(Patches - 1), 1)),
        new("wedge step beside LD or HD", [SuspicionKind.OffByOneStep], Wedge),
        new("one step late, at end", [SuspicionKind.OffByOneStep], Late) { AtEnd = true },
        new("wrong end", [SuspicionKind.WrongEnd], _ => Backwards()),
        new("wrong end, at end", [SuspicionKind.WrongEnd], _ => Backwards()) { AtEnd = true },
        new("swapped channels", [SuspicionKind.SwappedChannels], Swapped),
        new("visual taken for red", [SuspicionKind.VisualForRed], Visual),
        new("one value wrong", [SuspicionKind.WrongValue], WrongValue),
        new("one value wrong, at end", [SuspicionKind.WrongValue], WrongValue) { AtEnd = true },
        new("D-max at its edge", [SuspicionKind.PatchEdge], Edge),
    ];

    private static Tampering Stray(Random random, int read)
    {
        var (slot, size) = (random.Next(Patches), Sign(random) * Between(random, 0.10, 0.40));
        var off = new Rgb(size * Between(random, 0.7, 1.3), size * Between(random, 0.7, 1.3), size * Between(random, 0.7, 1.3));
        return new Tampering { Show = s => s.Slot == slot && s.Read == read ? s.Rgb + off : s.Rgb };
    }

    private static Tampering Relative(Random random)
    {
        var zero = random.Next(2) == 0 ? 0 : random.Next(Patches);
        return new Tampering { Show = s => s.Rgb - s.Strip.Densities[DemoFilm.Patches[zero].Key] };
    }

    private static Tampering Exchange(Random random, int apart)
    {
        int i, j;
        do
        {
            (i, j) = (random.Next(Patches), random.Next(Patches));
        }
        while (j - i < apart || (apart > 1 && j - i == Patches - 1));
        return new Tampering { Source = slot => slot == i ? j : slot == j ? i : slot };
    }

    private static Tampering Unmasked(Random random)
    {
        var image = Neutrals.Select(d => new Rgb(Near(d), Near(d), Near(d))).ToArray();
        return new Tampering { Show = s => image[s.Slot] + s.Rgb - s.Strip.Densities[DemoFilm.Patches[s.Slot].Key] };

        double Near(double density) => density + Between(random, -0.02, 0.02);
    }

    private static Tampering At(int slot, int step) => new() { Source = s => s == slot ? s + step : s };

    private static Tampering Wedge(Random random)
    {
        var (slot, step) = (random.Next(1, 3), Sign(random) * Between(random, 0.15, 0.25));
        return new Tampering
        {
            Show = s => s.Slot == slot ? s.Rgb + (step * (s.Strip.Densities[DemoFilm.High] - s.Strip.Densities[DemoFilm.Low])) : s.Rgb,
        };
    }

    private static Tampering Late(Random random)
    {
        var from = random.Next(1, Patches - 1);
        return new Tampering { Source = s => s >= from ? s - 1 : s };
    }

    private static Tampering WrongValue(Random random)
    {
        var (slot, colour, size) = (random.Next(Patches), random.Next(3), Sign(random) * Between(random, 0.10, 0.60));
        var off = new Rgb(colour == 0 ? size : 0, colour == 1 ? size : 0, colour == 2 ? size : 0);
        return new Tampering { Show = s => s.Slot == slot ? s.Rgb + off : s.Rgb };
    }

    private static Tampering Edge(Random random)
    {
        var off = Rgb.All(-Between(random, 0.15, 0.40));
        return new Tampering { Show = s => DemoFilm.Patches[s.Slot].Key == DemoFilm.DMax ? s.Rgb + off : s.Rgb };
    }

    private static Tampering Backwards() => new() { Source = s => Patches - 1 - s };

    private static Tampering Swapped(Random random)
    {
        var order = random.Next(5);
        return new Tampering
        {
            Show = s => order switch
            {
                0 => new Rgb(s.Rgb.Red, s.Rgb.Blue, s.Rgb.Green),
                1 => new Rgb(s.Rgb.Green, s.Rgb.Red, s.Rgb.Blue),
                2 => new Rgb(s.Rgb.Blue, s.Rgb.Green, s.Rgb.Red),
                3 => new Rgb(s.Rgb.Green, s.Rgb.Blue, s.Rgb.Red),
                _ => new Rgb(s.Rgb.Blue, s.Rgb.Red, s.Rgb.Green),
            },
        };
    }

    private static Tampering Visual(Random random)
    {
        var (red, blue) = (Between(random, 0.25, 0.35), Between(random, 0.05, 0.15));
        return new Tampering
        {
            Show = s => s.Rgb with { Red = (red * s.Rgb.Red) + ((1 - red - blue) * s.Rgb.Green) + (blue * s.Rgb.Blue) },
        };
    }
}
