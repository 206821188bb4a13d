namespace TruthBenchmark.World;

/// <summary>What an instrument shows of one patch, with the digits of its display.</summary>
internal readonly record struct Shown(decimal Red, decimal Green, decimal Blue)
{
    public decimal this[int colour] => colour switch { 0 => Red, 1 => Green, _ => Blue };

    public Shown With(int colour, decimal value) => new(
        colour == 0 ? value : Red, colour == 1 ? value : Green, colour == 2 ? value : Blue);
}

/// <summary>
/// An instrument as it truly is. A read scatters by <see cref="Least"/> at density 0 and by <see cref="Most"/> at density 3, more
/// steeply towards the dark, with tails heavier than a bell; part of it is placing, which the three colours share.
/// </summary>
internal sealed record Densitometer(double Least, double Most, int Decimals)
{
    private const double Dark = 3;
    private const double Steepness = 1.4;

    /// <summary>Share of a read's variance that comes from placing the strip.</summary>
    private const double Placing = 0.35;

    /// <summary>Standard deviation of the move of the zero from one setting to the next.</summary>
    public double ZeroMoves { get; init; }

    /// <summary>How far the zero wanders from the first patch of a strip to the last.</summary>
    public double ZeroWanders { get; init; }

    /// <summary>An instrument that scatters alike at all densities.</summary>
    public static Densitometer Even(double scatter, int decimals = 2) => new(scatter, scatter, decimals);

    /// <summary>Standard deviation of one read with the strip placed anew, rounding not counted.</summary>
    public double Scatter(double density) => Least + ((Most - Least) * Math.Pow(Math.Clamp(density / Dark, 0, 1.2), Steepness));

    /// <summary>Sets the zero and begins to read.</summary>
    public Sitting Sit(Dice dice) => new(this, dice, ZeroMoves / Math.Sqrt(2) * dice.Bell());

    /// <summary>One read of a density, for one colour, with the part that placing adds.</summary>
    public double Read(Dice dice, double truth, double placed) =>
        truth + (Scatter(truth) * ((Math.Sqrt(Placing) * placed) + (Math.Sqrt(1 - Placing) * dice.Heavy())));

    public decimal Show(double density)
    {
        var digits = new decimal(0, 0, 0, false, (byte)Decimals);
        return decimal.Round((decimal)Math.Clamp(density, -0.5, 5), Decimals, MidpointRounding.AwayFromZero) + digits;
    }
}

/// <summary>From setting the zero until it is set again.</summary>
internal sealed class Sitting(Densitometer instrument, Dice dice, double zero)
{
    /// <summary>Reads a strip, each patch so many times with the strip placed anew.</summary>
    public ImmutableArray<ImmutableArray<Shown>> Read(Cells truth, int reads = 1) =>
    [
        .. Enumerable.Range(0, Cells.Patches).Select(p => Enumerable.Range(0, reads).Select(_ => One(truth, p)).ToImmutableArray()),
    ];

    private Shown One(Cells truth, int patch)
    {
        var off = zero + (instrument.ZeroWanders * patch / (Cells.Patches - 1));
        var placed = dice.Bell();
        decimal Colour(int c) => instrument.Show(instrument.Read(dice, truth[patch, c], placed) + off);
        return new Shown(Colour(0), Colour(1), Colour(2));
    }
}
