namespace TruthBenchmark.World;

/// <summary>How a lot's aims come about: what they rest on, and so how wrong they are.</summary>
/// <param name="Reads">Reads behind each aim; none for the maker's list.</param>
/// <param name="ListError">How far the maker's list is off, standard deviation of each cell.</param>
internal sealed record AimStory(Origin Origin, int Reads, double ListError = 0)
{
    public static AimStory ReadOnce { get; } = new(Origin.Instrument, 1);

    public static AimStory Typed(int reads) => new(Origin.Typed, reads);

    public static AimStory List(double error) => new(Origin.MakersList, 0, error);

    /// <summary>Writes the reference of a lot down; its reference strip is a strip like others, and it defines the aim.</summary>
    public ReferenceFacts Write(Densitometer instrument, Cells reference, Dice dice, DateTimeOffset at, Sitting? during = null) =>
        Origin switch
        {
            Origin.Instrument => new(at, Origin, (during ?? instrument.Sit(dice)).Read(reference, Reads), Reads),
            Origin.Typed => new(at, Origin, Mean((during ?? instrument.Sit(dice)).Read(reference, Reads)), Reads),
            _ => new(at, Origin, Listed(reference, dice), 0, ListError),
        };

    private static ImmutableArray<ImmutableArray<Shown>> Mean(ImmutableArray<ImmutableArray<Shown>> reads) =>
    [
        .. reads.Select(p => ImmutableArray.Create(new Shown(Of(p, 0), Of(p, 1), Of(p, 2)))),
    ];

    // A person writes as many digits as the instrument shows, or one more where several were averaged.
    private static decimal Of(ImmutableArray<Shown> reads, int colour)
    {
        var digits = Math.Min(reads[0][colour].Scale + (reads.Length > 1 ? 1 : 0), 3);
        return decimal.Round(reads.Average(r => r[colour]), digits, MidpointRounding.AwayFromZero)
            + new decimal(0, 0, 0, false, (byte)digits);
    }

    private ImmutableArray<ImmutableArray<Shown>> Listed(Cells reference, Dice dice)
    {
        var list = Densitometer.Even(ListError);
        return
        [
            .. Enumerable.Range(0, Cells.Patches).Select(p => ImmutableArray.Create(
                new Shown(Off(list, reference[p, 0], dice), Off(list, reference[p, 1], dice), Off(list, reference[p, 2], dice)))),
        ];
    }

    private decimal Off(Densitometer list, double truth, Dice dice) => list.Show(truth + (ListError * dice.Bell()));
}
