namespace TruthBenchmark.World;

/// <summary>
/// A line that runs a strip a day, each read once in a sitting of its own: single reads that scatter more in the dark, a zero that moves a
/// little, a process that scatters with or without memory, and whatever truly happens to it.
/// </summary>
internal sealed record HistoryStory(int Strips, Process Process)
{
    /// <summary>What is usual in a small darkroom: a tank by hand, an instrument that shows hundredths.</summary>
    public static Densitometer Bench { get; } = new(0.004, 0.010, 2) { ZeroMoves = 0.004 };

    public Densitometer Instrument { get; init; } = Bench;

    public AimStory Aims { get; init; } = new(Origin.Instrument, 3);

    /// <summary>What truly happens: the deviation that a strip has beside all scatter, by its number.</summary>
    public Func<int, Cells> Happens { get; init; } = _ => Cells.None;

    /// <summary>The strip from which on another lot is used; null for none. The new lot's aims have errors of their own.</summary>
    public int? NewLotFrom { get; init; }

    public House House(Dice dice)
    {
        var emulsions = new[] { Emulsion.Draw(dice), Emulsion.Draw(dice) };
        string[] codes = ["2417", "1208"];
        // The next lot is read in on its day, with the zero as it stands then.
        var lots = emulsions.Select((e, i) => new LotFacts(
            codes[i], Aims.Write(Instrument, e.Strip(dice), dice, Days.At(i == 0 ? -2 : (NewLotFrom ?? 0) - 0.5)))).ToList();
        var strips = Process.Strips(dice, Strips).Select((run, i) =>
        {
            var lot = i >= NewLotFrom ? 1 : 0;
            return new StripFacts(Days.At(i), codes[lot], Instrument.Sit(dice).Read(emulsions[lot].Strip(dice) + run + Happens(i)));
        });
        return new House { Lots = [.. lots.Take(NewLotFrom is null ? 1 : 2)], Strips = [.. strips] };
    }
}

/// <summary>Movements of a process: which way and how they come.</summary>
internal static class Movements
{
    /// <summary>A developer that does too much or too little, so that the worst parameter is one action limit off.</summary>
    public static Cells Direction(Dice dice)
    {
        var side = dice.Sign();
        var raw = Cells.Of((p, c) => side * p switch
        {
            Cells.DMin => 0,
            Cells.Low => 0.6 * dice.Between(0.8, 1.2),
            Cells.High or Cells.DMax => 1.5 * dice.Between(0.8, 1.2),
            _ => c == Cells.Blue ? 1.4 : 0.5,
        });
        return 1 / Measures.ActionLimits(raw) * raw;
    }

    /// <summary>From one strip to the next.</summary>
    public static Func<int, Cells> Step(Cells direction, double limits, int at) => i => i < at ? Cells.None : limits * direction;

    /// <summary>So many action limits over thirty strips, from a strip on.</summary>
    public static Func<int, Cells> Ramp(Cells direction, double limits, int from) =>
        i => i < from ? Cells.None : limits * (i - from + 1) / 30.0 * direction;
}
