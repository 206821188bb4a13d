namespace TruthBenchmark.World;

/// <summary>A mistake of reading: what the instrument is shown instead of the strip, patch by patch.</summary>
internal sealed record ReadingMistake(string Id, string What, Func<Dice, Cells, Cells> Shown)
{
    public static ImmutableArray<ReadingMistake> All { get; } =
    [
        new("cell", "one cell off by 0.10 and more, typing", (d, s) => Mishaps.OneCell(d, s, 0.10)),
        new("cell-even", "one cell off by 0.10 to 0.60, any size", Cell),
        new("edge", "D-max read at its edge, 0.15 and more low", Edge),
        new("drift", "the zero drifts by 0.06 and more along the strip", (d, s) =>
            d.Between(0.06, 0.10) * d.Sign() is var size ? s + Cells.Of((p, _) => size * p / (Cells.Patches - 1)) : s),
        new("halves", "one strip's half and another's", Halves),
        new("end", "read from the wrong end", (_, s) => Cells.Of((p, c) => s[Cells.Patches - 1 - p, c])),
    ];

    private static Cells Cell(Dice dice, Cells strip)
    {
        var (p, c) = (dice.Below(Cells.Patches), dice.Below(Cells.Colours));
        return strip.With(p, c, strip[p, c] + (dice.Between(0.10, 0.60) * (strip[p, c] > 0.7 ? dice.Sign() : 1)));
    }

    private static Cells Edge(Dice dice, Cells strip)
    {
        var size = dice.Between(0.15, 0.40);
        return Cells.Of((p, c) => strip[p, c] - (p == Cells.DMax ? size * dice.Between(0.85, 1.15) : 0));
    }

    // The other strip ran in another bath: its development was off, by half a limit to two.
    private static Cells Halves(Dice dice, Cells strip)
    {
        var kind = dice.Pick<FaultKind>([FaultKind.Overdeveloped, FaultKind.Underdeveloped]);
        var other = strip + Faults.Draw(kind, dice, strip, dice.Between(1.5, 4));
        return Cells.Of((p, c) => p < Cells.High ? strip[p, c] : other[p, c]);
    }
}

/// <summary>Film that something was truly done to: nothing about its reading is wrong.</summary>
internal sealed record BadFilm(string Id, string What, Func<Dice, Cells, Cells> Made)
{
    public static ImmutableArray<BadFilm> All { get; } =
    [
        new("order", "in order", (_, s) => s),
        new("off", "one fault, one to three action limits", (d, s) => s + Faults.Draw(d.Pick(Faults.Kinds[..7]), d, s, d.Between(1, 3))),
        new("dead", "dead developer", (d, s) => Image(d, s, 0.05, 0.45, 0)),
        new("push", "pushed two stops", (d, s) => Image(d, s, 1.2, 1.45, 0.05)),
        new("bleach", "bleach skipped", (d, s) => d.Between(0.35, 0.7) is var share
            ? Cells.Of((p, c) => s[p, c] + (share * d.Between(0.9, 1.1) * Grey(s, p))) : s),
        new("fogged", "fogged by light", (d, s) => d.Between(0.15, 0.7) is var fog
            ? Cells.Of((p, c) => Math.Log10(Math.Pow(10, s[p, c]) + (Math.Pow(10, s[Cells.DMin, c]) * (Math.Pow(10, fog) - 1) * 0.9))) : s),
    ];

    private static Cells Image(Dice dice, Cells strip, double low, double high, double fog)
    {
        var share = dice.Between(low, high);
        double[] layer = [dice.Between(0.92, 1.08), dice.Between(0.95, 1.05), dice.Between(0.92, 1.08)];
        var veil = fog * dice.Between(0.5, 2);
        return Cells.Of((p, c) => strip[Cells.DMin, c] + veil + (share * layer[c] * (strip[p, c] - strip[Cells.DMin, c])));
    }

    private static double Grey(Cells strip, int patch) => patch == Cells.Yellow
        ? 0.3 * Grey(strip, Cells.DMax)
        : Enumerable.Range(0, 3).Average(c => strip[patch, c] - strip[Cells.DMin, c]);
}
