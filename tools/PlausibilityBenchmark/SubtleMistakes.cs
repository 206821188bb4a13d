using Acquire.Analysis.Plausibility;
using Acquire.Instruments.Simulation;
using static PlausibilityBenchmark.Draw;

namespace PlausibilityBenchmark;

/// <summary>Mistakes that only the pattern over all patches tells from a process fault.</summary>
internal static class SubtleMistakes
{
    public static ImmutableArray<Mistake> All { get; } =
    [
        new("wrong lot, known", [SuspicionKind.WrongLot], _ => new Tampering { Lot = b => b.OtherOnAim }),
        new("wrong lot, unknown", [SuspicionKind.WrongLot], _ => new Tampering { Lot = b => b.StrangeOnAim }),
        new("wrong status", [SuspicionKind.WrongStatus], Status),
        new("not dry", [SuspicionKind.NotDry], Wet),
        new("dirty zero", [SuspicionKind.DirtyZero], r => Off(Sign(r) * Between(r, 0.02, 0.06))),
        new("zero drifts along the strip", [SuspicionKind.ZeroDrift], r => Drifting(Sign(r) * Between(r, 0.05, 0.10))),
        new("halves of two strips", [SuspicionKind.TwoStrips], Halves),
        new("slope error", [SuspicionKind.SlopeError], r => Steep(Sign(r) * Between(r, 0.02, 0.05))),
    ];

    private static Tampering Status(Random random)
    {
        var slope = new Rgb(Share(), Share(), Share());
        var offset = new Rgb(Between(random, -0.03, 0.03), Between(random, -0.03, 0.03), Between(random, -0.03, 0.03));
        return new Tampering
        {
            Show = s => s.Rgb + offset + new Rgb(slope.Red * s.Rgb.Red, slope.Green * s.Rgb.Green, slope.Blue * s.Rgb.Blue),
        };

        double Share() => Sign(random) * Between(random, 0.02, 0.08);
    }

    private static Tampering Wet(Random random)
    {
        var (size, seconds) = (Sign(random) * Between(random, 0.02, 0.08), Between(random, 30, 180));
        return new Tampering { Show = s => s.Rgb + Rgb.All(size * Math.Exp(-s.Seconds / seconds)) };
    }

    private static Tampering Off(double offset) => new() { Show = s => s.Rgb + Rgb.All(offset) };

    private static Tampering Drifting(double size) =>
        new() { Show = s => s.Rgb + Rgb.All(size * s.Slot / (DemoFilm.Patches.Length - 1)) };

    // The other strip had a share more or less of its image.
    private static Tampering Halves(Random random)
    {
        var (from, share) = (random.Next(2, 4), Sign(random) * Between(random, 0.08, 0.25));
        return new Tampering
        {
            Show = s => s.Slot < from
                ? s.Rgb
                : s.Rgb + (share * (s.Strip.Densities[DemoFilm.Patches[s.Slot].Key] - s.Strip.Densities[DemoFilm.DMin])),
        };
    }

    private static Tampering Steep(double share) => new() { Show = s => (1 + share) * s.Rgb };
}
