namespace TruthBenchmark.World;

/// <summary>What is no fault of any list, and mistakes that are none of the process.</summary>
internal enum Mishap
{
    /// <summary>A pattern that no usual fault makes: colours that cross, one layer by itself, anything.</summary>
    Unlisted,

    /// <summary>One cell was mistyped.</summary>
    OneCell,

    /// <summary>The strip was read from the other end.</summary>
    WrongEnd,

    /// <summary>One patch has a scratch, dust or a drying mark.</summary>
    DamagedPatch,

    /// <summary>The strip is of a lot that has other aims.</summary>
    OtherLot,

    /// <summary>The strip is another maker's.</summary>
    OtherMaker,

    /// <summary>The instrument was set to another status.</summary>
    OtherStatus,
}

/// <summary>Makes them of what a strip would have been.</summary>
internal static class Mishaps
{
    public static ImmutableArray<Mishap> All { get; } = [.. Enum.GetValues<Mishap>()];

    /// <param name="strip">The strip's true densities.</param>
    public static Cells Befall(Mishap mishap, Dice dice, Cells strip) => mishap switch
    {
        Mishap.Unlisted => strip + Faults.Scaled(Unlisted(dice), dice.Between(1.2, 3)),
        Mishap.OneCell => OneCell(dice, strip, 0.10),
        Mishap.WrongEnd => Cells.Of((p, c) => strip[Cells.Patches - 1 - p, c]),
        Mishap.DamagedPatch => Damaged(dice, strip),
        Mishap.OtherLot => strip + Cells.Of((_, _) => 0.035 * dice.Bell()),
        // The same patches and other layers: what is laid on is off by a tenth and more, patch by patch.
        Mishap.OtherMaker => strip + Cells.Of((p, _) => dice.Between(0.04, 0.18) * dice.Sign() * (p == Cells.DMin ? 0.5 : 1)),
        _ => Status(dice, strip),
    };

    /// <summary>One cell is off by so much at least: digits exchanged, one hit beside the right key, one left out.</summary>
    public static Cells OneCell(Dice dice, Cells strip, double least)
    {
        while (true)
        {
            var (patch, colour) = (dice.Below(Cells.Patches), dice.Below(Cells.Colours));
            var right = (int)Math.Round(strip[patch, colour] * 100);
            int[] digits = [right / 100, right / 10 % 10, right % 10];
            var wrong = dice.Below(4) switch
            {
                0 => (digits[0] * 100) + (digits[2] * 10) + digits[1],
                1 => (digits[1] * 100) + (digits[0] * 10) + digits[2],
                2 => right + ((dice.Happens(0.5) ? 10 : 100) * (dice.Happens(0.5) ? 1 : -1) * (1 + dice.Below(2))),
                _ => right / 10,
            };
            if (wrong is >= 0 and < 450 && Math.Abs(wrong - right) >= 100 * least)
            {
                return strip.With(patch, colour, wrong / 100.0);
            }
        }
    }

    private static Cells Damaged(Dice dice, Cells strip)
    {
        var (patch, size) = (dice.Below(Cells.Patches), dice.Between(0.06, 0.30) * dice.Sign());
        return Cells.Of((p, c) => strip[p, c] + (p == patch ? size * dice.Between(0.7, 1.3) : 0));
    }

    /// <summary>Other filters: off by a share of density that differs by colour, with what the mask makes of it.</summary>
    private static Cells Status(Dice dice, Cells strip)
    {
        double[] share = [dice.Between(0.02, 0.09), dice.Between(-0.08, -0.02), dice.Between(0.03, 0.10) * dice.Sign()];
        double[] mask = [dice.Between(-0.03, 0.02), dice.Between(-0.04, 0.02), dice.Between(-0.05, 0.02)];
        return Cells.Of((p, c) => (strip[p, c] * (1 + share[c])) + mask[c]);
    }

    private static Cells Unlisted(Dice dice)
    {
        switch (dice.Below(3))
        {
            case 0:
                // Crossed colours: one rises in the dark and another falls.
                var up = dice.Below(3);
                return Cells.Of((p, c) => (p == Cells.DMin ? 0.1 : p == Cells.Low ? 0.3 : 1) * (c == up ? 1 : c == (up + 1) % 3 ? -1 : 0));
            case 1:
                // One layer by itself, not the cyan one.
                var (layer, side, low) = (1 + dice.Below(2), dice.Sign(), dice.Between(0.2, 1));
                return Cells.Of((p, c) => c != layer || p == Cells.DMin ? 0 : side * (p == Cells.Low ? low : 1));
            default:
                // Patches and colours of any sign.
                double[] patches = [
                    dice.Between(-1, 1), dice.Between(-1, 1), dice.Between(-1, 1), dice.Between(-1, 1), dice.Between(-1, 1)];
                double[] colours = [dice.Between(-1, 1), dice.Between(-1, 1), dice.Between(-1, 1)];
                return Cells.Of((p, c) => (patches[p] * colours[c]) + (0.3 * dice.Bell()));
        }
    }
}
