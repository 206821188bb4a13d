namespace Acquire.Domain.Books;

/// <summary>A bottle at a moment: how old its solution is, how long it has been open, how much film it has seen, how full it is.</summary>
public sealed record BottleState
{
    /// <summary>
    /// What happens to a bottle within so long of the first is one opening: an evening's work. Common practice, no source.
    /// </summary>
    public static readonly TimeSpan Occasion = TimeSpan.FromHours(4);

    private BottleState(Bottle bottle, Solution solution, DateTimeOffset at) =>
        (Bottle, Solution, At, Storage) = (bottle, solution, at, bottle.Storage);

    /// <summary>The bottle.</summary>
    public Bottle Bottle { get; }

    /// <summary>The mix in it.</summary>
    public Solution Solution { get; }

    /// <summary>The moment.</summary>
    public DateTimeOffset At { get; }

    /// <summary>Age of the mix, at its discard where it went out of use; null before it was mixed.</summary>
    public TimeSpan? Age => At >= Solution.HappenedAt ? UntilDiscarded(Solution.HappenedAt) : null;

    /// <summary>
    /// When it was first opened: noted as opened, or used, poured from or topped up; null while it is closed. What is entered for a time
    /// before it was filled opens it when it was filled.
    /// </summary>
    public DateTimeOffset? OpenedAt { get; private init; }

    /// <summary>Time since it was first opened, up to its discard where it went out of use; null while it is closed.</summary>
    public TimeSpan? SinceOpening => OpenedAt is { } opened ? UntilDiscarded(opened) : null;

    /// <summary>How often it was opened; what happens within <see cref="Occasion"/> is one opening.</summary>
    public int Openings { get; private init; }

    /// <summary>Area of film that went through it, in m².</summary>
    public double AreaUsed { get; private init; }

    /// <summary>The same in rolls of 80 in².</summary>
    public double Rolls => AreaUsed / FilmFormat.Roll;

    /// <summary>Filled in, in litres.</summary>
    public double Filled { get; private init; }

    /// <summary>Topped up, in litres.</summary>
    public double ToppedUp { get; private init; }

    /// <summary>Poured out, in litres.</summary>
    public double Poured { get; private init; }

    /// <summary>Thrown away in the end, in litres.</summary>
    public double Discarded { get; private init; }

    /// <summary>What is left, in litres. Left − overdrawn = filled + topped up − poured − discarded.</summary>
    public double Left => Math.Max(Balance, 0);

    /// <summary>How much more was poured than was there, by the books, in litres; 0 when they agree.</summary>
    public double Overdrawn => Math.Max(-Balance, 0);

    /// <summary>How it is kept.</summary>
    public BottleStorage Storage { get; private init; }

    /// <summary>How full the container is, 1 for brim-full; null when its capacity is not known.</summary>
    public double? FillShare => Storage.Capacity is { } capacity ? Math.Min(Left / capacity, 1) : null;

    /// <summary>Gas above the solution, in litres; null when the capacity is not known.</summary>
    public double? Headspace => Storage.Capacity is { } capacity ? Math.Max(capacity - Left, 0) : null;

    /// <summary>Area per litre that went in, in m²/L; null before it was filled.</summary>
    public double? AreaPerLitre => Filled + ToppedUp > 0 ? AreaUsed / (Filled + ToppedUp) : null;

    /// <summary>When it went out of use; null while it is in use.</summary>
    public DateTimeOffset? DiscardedAt { get; private init; }

    private double Balance => Filled + ToppedUp - Poured - Discarded;

    internal static BottleState Of(Bottle bottle, Solution solution, IEnumerable<BookEntry> until, DateTimeOffset at)
    {
        var state = new BottleState(bottle, solution, at);
        DateTimeOffset? occasion = null;
        foreach (var entry in until)
        {
            var (next, opens) = state.After(entry);
            if (opens)
            {
                var anew = occasion is null || entry.HappenedAt - occasion > Occasion;
                occasion = anew ? entry.HappenedAt : occasion;
                next = next with { OpenedAt = next.OpenedAt ?? entry.HappenedAt, Openings = next.Openings + (anew ? 1 : 0) };
            }

            state = next;
        }

        return state;
    }

    // What is entered for a time after the discard is as old as it was then, and never younger than nothing.
    private TimeSpan UntilDiscarded(DateTimeOffset since) =>
        DiscardedAt is not { } discarded ? At - since : discarded > since ? discarded - since : TimeSpan.Zero;

    private (BottleState Next, bool Opens) After(BookEntry entry) => entry switch
    {
        Bottle filled when filled.Id == Bottle.Id => (this with { Filled = Bottle.Volume, OpenedAt = OpenedAt is null ? null : entry.HappenedAt }, false),
        FilmUse use when use.BottleIds.Contains(Bottle.Id) => (this with { AreaUsed = AreaUsed + use.Area }, true),
        BottleEvent e when e.BottleId == Bottle.Id => e.Kind switch
        {
            BottleEventKind.ToppedUp => (this with { ToppedUp = ToppedUp + e.Volume!.Value }, true),
            BottleEventKind.Poured => (this with { Poured = Poured + e.Volume!.Value }, true),
            BottleEventKind.StoredAnew => (this with { Storage = Storage.Then(e.Storage!) }, false),
            BottleEventKind.Discarded => (this with { Discarded = Discarded + Left, DiscardedAt = DiscardedAt ?? e.HappenedAt }, false),
            _ => (this, true),
        },
        _ => (this, false),
    };
}
