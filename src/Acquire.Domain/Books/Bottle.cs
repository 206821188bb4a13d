namespace Acquire.Domain.Books;

/// <summary>How a solution is kept. What is null is not known, or stays as it was.</summary>
public sealed record BottleStorage
{
    /// <summary>States how a solution is kept.</summary>
    /// <exception cref="ImpossibleValueException">The capacity is not above zero, or the temperature cannot be.</exception>
    public BottleStorage(string? container = null, double? capacity = null, string? gas = null, double? temperature = null)
    {
        Container = Liquid.Word(container);
        Capacity = Liquid.Volume(capacity, "The capacity of a bottle");
        Gas = Liquid.Word(gas);
        Temperature = Liquid.Temperature(temperature, "A storage temperature");
    }

    /// <summary>What it is kept in, such as glass, PET or an open tank.</summary>
    public string? Container { get; }

    /// <summary>How much the container holds when brim-full, in litres.</summary>
    public double? Capacity { get; }

    /// <summary>The gas above the solution, such as air or argon.</summary>
    public string? Gas { get; }

    /// <summary>Storage temperature in °C.</summary>
    public double? Temperature { get; }

    /// <summary>Whether nothing is said.</summary>
    public bool IsEmpty => Container is null && Capacity is null && Gas is null && Temperature is null;

    /// <summary>What a later statement changes; the rest stays.</summary>
    public BottleStorage Then(BottleStorage later) => new(
        later.Container ?? Container, later.Capacity ?? Capacity, later.Gas ?? Gas, later.Temperature ?? Temperature);
}

/// <summary>A bottle or tank of a solution; its time is when it was filled. A bottle that is emptied and filled with
/// another mix is a new one, and may bear the same name.</summary>
public sealed record Bottle : BookEntry
{
    /// <exception cref="ImpossibleValueException">There is no name, or the volume is not above zero.</exception>
    public Bottle(EntryStamp stamp, string name, Guid solutionId, double volume, BottleStorage storage)
        : base(stamp)
    {
        Name = Guard.Text(name, "The name of a bottle");
        SolutionId = solutionId;
        Volume = Liquid.Volume(volume, "The volume in a bottle");
        Storage = storage;
    }

    /// <summary>The user's name for it, best a short code.</summary>
    public string Name { get; }

    public Guid SolutionId { get; }

    /// <summary>How much was filled in, in litres.</summary>
    public double Volume { get; }

    public BottleStorage Storage { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [SolutionId];
}

public enum BottleEventKind
{
    Opened,

    /// <summary>Solution was added.</summary>
    ToppedUp,

    /// <summary>Solution was taken out for good.</summary>
    Poured,

    /// <summary>Kept in another way from then on.</summary>
    StoredAnew,

    /// <summary>What was left was thrown away; the bottle is out of use.</summary>
    Discarded,
}

/// <summary>Something that happened to a bottle.</summary>
public sealed record BottleEvent : BookEntry
{
    /// <summary>States what happened.</summary>
    /// <exception cref="ImpossibleValueException">A volume is missing, or given where
    /// none belongs; or a new way of keeping says nothing.</exception>
    public BottleEvent(EntryStamp stamp, Guid bottleId, BottleEventKind kind, double? volume = null, BottleStorage? storage = null)
        : base(stamp)
    {
        (BottleId, Kind, Storage) = (bottleId, kind, storage);
        Volume = Liquid.Volume(volume, "The volume poured or topped up");
        Guard.That(
            (kind is BottleEventKind.Poured or BottleEventKind.ToppedUp) == (volume is not null),
            "A volume belongs to pouring and topping up, and to nothing else.");
        // Both ways: a storage said with another kind of event would be kept and never counted.
        Guard.That(
            (kind == BottleEventKind.StoredAnew) == storage is { IsEmpty: false },
            "A bottle that is stored anew needs its container, capacity, gas or temperature, and only such a one does.");
    }

    public Guid BottleId { get; }

    public BottleEventKind Kind { get; }

    /// <summary>How much was poured or topped up, in litres.</summary>
    public double? Volume { get; }

    /// <summary>How it is kept from then on.</summary>
    public BottleStorage? Storage { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [BottleId];
}

/// <summary>A bottle at a moment: how old its solution is, how long it has been open, how much film it has seen, how full it is.</summary>
public sealed record BottleState
{
    /// <summary>What happens to a bottle within so long of the first is one
    /// opening: an evening's work. Common practice, no source.</summary>
    public static readonly TimeSpan Occasion = TimeSpan.FromHours(4);

    private BottleState(Bottle bottle, Solution solution, DateTimeOffset at) =>
        (Bottle, Solution, At, Storage) = (bottle, solution, at, bottle.Storage);

    public Bottle Bottle { get; }

    public Solution Solution { get; }

    public DateTimeOffset At { get; }

    /// <summary>Age of the mix, at its discard where it went out of use; null before it was mixed.</summary>
    public TimeSpan? Age => At >= Solution.HappenedAt ? UntilDiscarded(Solution.HappenedAt) : null;

    /// <summary>When it was first opened: noted as opened, or used, poured from or topped up; null while it is closed. What is entered for
    /// a time before it was filled opens it when it was filled.</summary>
    public DateTimeOffset? OpenedAt { get; private init; }

    /// <summary>Time since it was first opened, up to its discard where it went out of use; null while it is closed.</summary>
    public TimeSpan? SinceOpening => OpenedAt is { } opened ? UntilDiscarded(opened) : null;

    /// <summary>How often it was opened; what happens within <see cref="Occasion"/> is one opening.</summary>
    public int Openings { get; private init; }

    /// <summary>Area of film that went through it, in m².</summary>
    public double AreaUsed { get; private init; }

    /// <summary>The same in rolls of 80 in².</summary>
    public double Rolls => AreaUsed / FilmFormat.Roll;

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
        // An occasion begins with its first event and does not grow with later ones: air came in once an evening, not once for ever.
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
        Bottle filled when filled.Id == Bottle.Id =>
            // Entries may be dated back before the bottle was filled: it was opened then when it was filled, and no earlier.
            (this with { Filled = Bottle.Volume, OpenedAt = OpenedAt is null ? null : entry.HappenedAt }, false),
        FilmUse use when use.BottleIds.Contains(Bottle.Id) => (this with { AreaUsed = AreaUsed + use.Area }, true),
        BottleEvent e when e.BottleId == Bottle.Id => e.Kind switch
        {
            BottleEventKind.ToppedUp => (this with { ToppedUp = ToppedUp + e.Volume!.Value }, true),
            BottleEventKind.Poured => (this with { Poured = Poured + e.Volume!.Value }, true),
            BottleEventKind.StoredAnew => (this with { Storage = Storage.Then(e.Storage!) }, false),
            // The first discard stands: what was left at that moment is what went.
            BottleEventKind.Discarded => (this with { Discarded = Discarded + Left, DiscardedAt = DiscardedAt ?? e.HappenedAt }, false),
            _ => (this, true),
        },
        _ => (this, false),
    };
}
