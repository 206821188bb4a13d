namespace TruthBenchmark.World;

/// <summary>How a developer ages: the share of the way to the action limit, by the day. Nobody tells the analysis which it is.</summary>
internal sealed record Ageing(string Name, Func<double, double> Share)
{
    public static Ageing None { get; } = new("no ageing", _ => 0);

    /// <summary>As film that stands in a full bottle: nothing for a month, then air has its way.</summary>
    public static Ageing Hinge { get; } = new("flat to day 30, then falling", day => Math.Max(0, day - 30) / 11.7);

    /// <summary>Loses half of what the limit allows within two weeks and then no more.</summary>
    public static Ageing Plateau { get; } = new("falls and comes to rest", day => 0.55 * (1 - Math.Exp(-day / 7)));

    public static Ageing Exponential { get; } = new("faster and faster", day => (Math.Exp(day / 16) - 1) / (Math.Exp(45 / 16.0) - 1));

    public static Ageing Straight(double life) => new("straight", day => day / life);

    public override string ToString() =>
        double.IsInfinity(Life) ? $"{Name} (never)" : FormattableString.Invariant($"{Name} (true {Life:0.0})");

    /// <summary>The day on which the mean bottle reaches the limit; never is infinite.</summary>
    public double Life { get; } =
        Enumerable.Range(0, 4000).Select(i => i / 10.0).FirstOrDefault(d => Share(d) >= 1, double.PositiveInfinity);
}

/// <summary>Bottles of developer with strips run at some of their days.</summary>
/// <param name="Bottles">How many bottles, one after another.</param>
/// <param name="Days">The days of age at which each has a strip.</param>
internal sealed record AgeingStory(Ageing Ageing, int Bottles, ImmutableArray<double> Days)
{
    /// <summary>What the whole way to the limit looks like. Red contrast gets there first.</summary>
    private static readonly Cells Way = Cells.Rows(
        [0, 0.001, 0.006], [-0.022, -0.020, -0.024], [-0.092, -0.072, -0.086], [-0.100, -0.080, -0.09], [-0.010, -0.010, -0.088]);

    /// <summary>What ages instead of contrast; null for the developer's usual way.</summary>
    public Cells? Instead { get; init; }

    /// <summary>A jump through a change of method that nobody wrote down, from the strip of that number on.</summary>
    public (int From, double Limits)? Unrecorded { get; init; }

    public Densitometer Instrument { get; init; } = HistoryStory.Bench;

    public AimStory Aims { get; init; } = AimStory.ReadOnce;

    /// <summary>How much bottles differ: in what they begin with, and in how fast they go.</summary>
    public double Between { get; init; } = 0.004;

    /// <summary>Strips from bottle to bottle of the same lot, read once each.</summary>
    public House House(Dice dice)
    {
        var emulsion = Emulsion.Draw(dice);
        // The maker chooses a reference strip that lies where the lot does; its factors see to the rest.
        var reference = Aims.Write(Instrument, emulsion.OnAim, dice, World.Days.At(-2));
        var runs = new Process(0.008, 0.4).Strips(dice, Bottles * Days.Length).ToList();
        var (strips, bottles, mixed) = (new List<StripFacts>(), new List<BottleFacts>(), 0.0);
        foreach (var bottle in Enumerable.Range(0, Bottles))
        {
            var (name, own, pace) = ($"D{bottle + 1}", Between * dice.Bell(), Math.Max(0.4, 1 + (0.12 * dice.Heavy())));
            bottles.Add(new BottleFacts(name, World.Days.At(mixed)));
            foreach (var planned in Days)
            {
                // Nobody runs a strip on the very day planned.
                var day = Math.Max(0.5, planned + dice.Between(-0.8, 0.8));
                var moved = (pace * Ageing.Share(day) * (Instead ?? Way)) + (own * Cells.Of((p, _) => p == Cells.DMin ? 0.2 : 1))
                    + Jump(strips.Count);
                strips.Add(new StripFacts(
                    World.Days.At(mixed + day), "2417", Instrument.Sit(dice).Read(emulsion.Strip(dice) + runs[strips.Count] + moved))
                {
                    Bottle = name,
                });
            }

            mixed += Days[^1] + 3;
        }

        return new House { Lots = [new LotFacts("2417", reference)], Strips = [.. strips], Bottles = [.. bottles] };
    }

    private Cells Jump(int strip) => Unrecorded is var (from, limits) && strip >= from ? limits * Way : Cells.None;
}
