namespace TruthBenchmark.World;

/// <summary>A bench at which strips are read: what stands behind the aims, and what is known of the instrument.</summary>
internal sealed record ReadingStory(Densitometer Instrument, AimStory Aims)
{
    /// <summary>Whether a repeatability test is in force: the reference strip read ten times over.</summary>
    public bool Tested { get; init; }

    public int Reads { get; init; } = 1;

    /// <summary>Whether the strip is read in the sitting in which the reference was.</summary>
    public bool OneSitting { get; init; }

    /// <summary>Ordinary strips of a process in order that were read before, a sitting each.</summary>
    public int Before { get; init; }

    /// <summary>Writes a house down whose last strip truly lies so far from its aims.</summary>
    public House House(Dice dice, Cells deviation)
    {
        var emulsion = Emulsion.Draw(dice);
        // The reference strip of the box is one of its strips; by the trade's rule it is what the aim is.
        var reference = emulsion.Strip(dice);
        var sitting = Instrument.Sit(dice);
        var process = new Process(0.008, 0.6);
        var before = process.Strips(dice, Before)
            .Select((moved, i) => Strip(Days.At(1 + i), Instrument.Sit(dice).Read(emulsion.Strip(dice) + moved)))
            .ToList();
        var last = Strip(
            OneSitting ? Days.At(0).AddMinutes(10) : Days.At(1 + Before),
            (OneSitting ? sitting : Instrument.Sit(dice)).Read(reference + deviation, Reads));
        return new House
        {
            Lots = [new LotFacts("2417", Aims.Write(Instrument, reference, dice, Days.At(0), sitting))],
            Tests = Tested ? [new TestFacts(Days.At(-1), Instrument.Sit(dice).Read(reference, 10))] : [],
            Strips = [.. before, last],
        };
    }

    private static StripFacts Strip(DateTimeOffset at, ImmutableArray<ImmutableArray<Shown>> reads) => new(at, "2417", reads);
}

/// <summary>Where a strip truly lies against its limits.</summary>
internal static class Placed
{
    // The shipped sheet's control limits (common practice, from memory).
    private const double DMin = 0.05;
    private const double Low = 0.08;
    private const double Contrast = 0.09;
    private const double Silver = 0.12;

    /// <summary>Anywhere within the control limits and somewhat beyond, each cell by itself.</summary>
    public static Cells Anywhere(Dice dice) => Cells.Of((p, _) =>
        1.3 * p switch { Cells.DMin => dice.Between(0, DMin), _ => dice.Between(-Low, Low) });

    /// <summary>Every parameter at the same share of its control limit, on either side where there are two.</summary>
    public static Cells AtLimits(Dice dice, double share)
    {
        var low = Enumerable.Range(0, Cells.Colours).Select(_ => share * Low * dice.Sign()).ToArray();
        var contrast = Enumerable.Range(0, Cells.Colours).Select(_ => share * Contrast * dice.Sign()).ToArray();
        var yellow = dice.Between(-0.02, 0.02);
        return Cells.Of((p, c) => p switch
        {
            Cells.DMin => share * DMin,
            Cells.Low => low[c],
            Cells.High => low[c] + contrast[c],
            Cells.DMax => c == Cells.Blue ? yellow + (share * Silver) : 0,
            _ => c == Cells.Blue ? yellow : 0,
        });
    }

    /// <summary>As <see cref="AtLimits"/>, but contrasts such that their spread is at the same share of its limit too.</summary>
    public static Cells Whole(Dice dice, double share)
    {
        var at = AtLimits(dice, share);
        var side = share * Contrast * dice.Sign();
        return Spread(at, [side, side, 0]);
    }

    /// <summary>Contrasts so far apart, in a random order of colours.</summary>
    public static Cells Spread(Dice dice, double spread)
    {
        var (least, middle) = (dice.Between(-0.03, 0.03), dice.Unit());
        double[] contrasts = [least, least + (middle * spread), least + spread];
        var turn = dice.Below(3);
        return Spread(Cells.None, [contrasts[turn], contrasts[(turn + 1) % 3], contrasts[(turn + 2) % 3]]);
    }

    private static Cells Spread(Cells at, double[] contrasts) =>
        Cells.Of((p, c) => p == Cells.High ? at[Cells.Low, c] + contrasts[c] : at[p, c]);
}
