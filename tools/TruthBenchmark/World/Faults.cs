namespace TruthBenchmark.World;

/// <summary>Kinds of faults as the world knows them.</summary>
internal enum FaultKind
{
    Overdeveloped,
    Underdeveloped,
    Contaminated,
    Silver,
    LeucoCyan,
    Stain,
    Strips,
    Instrument,
}

/// <summary>
/// What faults do to a strip, from what happens in the film: each pattern is drawn anew, follows from the lot's own densities and is
/// nobody's table. Ranges are judgement from the trade's rules of thumb; common practice, no source.
/// </summary>
internal static class Faults
{
    public static ImmutableArray<FaultKind> Kinds { get; } = [.. Enum.GetValues<FaultKind>()];

    /// <summary>A pattern whose worst parameter lies so many action limits off.</summary>
    public static Cells Draw(FaultKind kind, Dice dice, Cells film, double limits) => Scaled(Pattern(kind, dice, film), limits);

    /// <summary>Brings a pattern to a size; one that no limit speaks of is held against LD's.</summary>
    public static Cells Scaled(Cells pattern, double limits)
    {
        var largest = Enumerable.Range(0, Cells.Patches)
            .SelectMany(p => Enumerable.Range(0, Cells.Colours).Select(c => Math.Abs(pattern[p, c]))).Max();
        return limits / Math.Max(Measures.ActionLimits(pattern), 0.3 * largest / 0.06) * pattern;
    }

    private static Cells Pattern(FaultKind kind, Dice dice, Cells film) => kind switch
    {
        FaultKind.Overdeveloped => Development(dice, film, 1),
        FaultKind.Underdeveloped => Development(dice, film, -1),
        FaultKind.Contaminated => Contaminated(dice),
        FaultKind.Silver => Silver(dice, film),
        FaultKind.LeucoCyan => LeucoCyan(dice, film),
        FaultKind.Stain => Stain(dice),
        FaultKind.Strips => Strips(dice),
        _ => Instrument(dice, film),
    };

    /// <summary>
    /// The developer does more or less: contrast by a share of the image, speed with it or without, little or no fog. Red lies deepest and
    /// may lag or lead.
    /// </summary>
    private static Cells Development(Dice dice, Cells film, double side)
    {
        double[] layer = [dice.Between(0.75, 1.45), dice.Between(0.85, 1.15), dice.Between(0.8, 1.25)];
        var (speed, fog, rest) = (dice.Between(0.1, 0.9), dice.Between(0, 0.2), dice.Between(0.6, 1.1));
        double[] dense = [0, speed * 0.9, speed + 1, (speed + 1) * rest, 0];
        return Cells.Of((p, c) => side * Rough(dice) * layer[c] * p switch
        {
            Cells.DMin => side > 0 ? fog * (c == Cells.Blue ? 1 : 0.5) : c == Cells.Blue ? -fog / 3 * dice.Sign() : 0,
            Cells.Yellow => c == Cells.Blue ? dense[Cells.DMax] * dice.Between(0.9, 1.05) : dense[Cells.Low] / 2,
            _ => dense[p] * Image(film, p, c) / Image(film, p, 1),
        });
    }

    /// <summary>Fixer or bleach in the developer: fog, and a contrast that rises with it.</summary>
    private static Cells Contaminated(Dice dice)
    {
        var low = dice.Between(0.6, 1);
        return Veil(dice, [dice.Between(0.5, 0.9), dice.Between(0.65, 1), 1], low, low + dice.Between(0.1, 0.6));
    }

    private static Cells Silver(Dice dice, Cells film)
    {
        var oneLayer = dice.Between(0.15, 0.4);
        var bend = dice.Between(0.8, 1.5);
        double Grey(int patch) => Math.Pow(Enumerable.Range(0, 3).Average(c => Image(film, patch, c)) / 2, bend);
        return Cells.Of((p, _) => dice.Between(0.9, 1.1) * p switch
        {
            Cells.DMin => 0.01,
            Cells.Yellow => oneLayer * Grey(Cells.DMax),
            _ => Grey(p),
        });
    }

    private static Cells LeucoCyan(Dice dice, Cells film)
    {
        var bend = dice.Between(0.9, 1.8);
        var crossed = dice.Between(0, 0.08);
        return Cells.Of((p, c) => p is Cells.DMin or Cells.Yellow ? 0
            : -Math.Pow(Image(film, p, 0), bend) * Rough(dice) * (c == 0 ? 1 : c == 1 ? crossed : 0));
    }

    private static Cells Stain(Dice dice) => dice.Below(3) switch
    {
        // Silver halide left in, sensitising dye left in, a poor wash.
        0 => Veil(dice, [dice.Between(0.4, 0.75), dice.Between(0.5, 0.85), 1], dice.Between(0.85, 1.1), dice.Between(0.8, 1.05)),
        1 => Veil(dice, [dice.Between(0.4, 0.75), 1, dice.Between(0, 0.25)], dice.Between(0.8, 1), dice.Between(0.6, 1)),
        _ => Veil(dice, [dice.Between(0.05, 0.3), dice.Between(0.5, 0.9), 1], dice.Between(0.8, 1), dice.Between(0.6, 1)),
    };

    private static Cells Strips(Dice dice) => dice.Below(3) switch
    {
        // Light: an exposure that shows where there was none before. Heat and age: fog, and a toe that suffers. A latent image that fades.
        0 => Veil(dice, [dice.Between(0.6, 1.2), dice.Between(0.7, 1.2), 1], dice.Between(0.4, 0.8), dice.Between(-0.05, 0.12)),
        1 => Veil(dice, [dice.Between(0.6, 1), dice.Between(0.75, 1.05), 1], dice.Between(-0.35, 0.2), dice.Between(-0.8, -0.1)),
        _ => Fading(dice),
    };

    private static Cells Fading(Dice dice)
    {
        var (high, fog) = (dice.Between(0.8, 1.25), dice.Between(0.05, 0.25));
        return Cells.Of((p, c) => Rough(dice) * p switch
        {
            Cells.DMin => fog,
            Cells.Low => -1,
            Cells.High => -high,
            Cells.DMax => -high * dice.Between(0.2, 0.8),
            _ => c == Cells.Blue ? -0.4 : -0.5,
        });
    }

    private static Cells Instrument(Dice dice, Cells film)
    {
        var side = dice.Sign();
        return dice.Below(3) switch
        {
            0 => Cells.Of((_, _) => side),
            1 => Cells.Of((p, c) => side * film[p, c]),
            _ => Cells.Of((p, c) => -Math.Pow(10, film[p, c] - 3)),
        };
    }

    /// <summary>Something that lies over the image: by colour at D-min, and how much of it is left at LD and in the dark.</summary>
    private static Cells Veil(
        Dice dice, double[] colours, double low, double dark) => Cells.Of((p, c) => colours[c] * Rough(dice) * p switch
    {
        Cells.DMin => 1,
        Cells.Low => low,
        Cells.High => dark,
        Cells.DMax => dark * dice.Between(0.7, 1.1),
        _ => c == Cells.Blue ? dark : (1 + low) / 2,
    });

    private static double Image(Cells film, int patch, int colour) => Math.Max(0.02, film[patch, colour] - film[Cells.DMin, colour]);

    private static double Rough(Dice dice) => 1 + (0.12 * dice.Bell());
}
