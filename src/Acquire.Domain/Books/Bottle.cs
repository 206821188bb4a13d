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

/// <summary>
/// A bottle or tank of a solution; its time is when it was filled. A bottle that is emptied and filled with another mix is a new one,
/// and may bear the same name.
/// </summary>
public sealed record Bottle : BookEntry
{
    /// <summary>States a filled bottle.</summary>
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

    /// <summary>The mix in it.</summary>
    public Guid SolutionId { get; }

    /// <summary>How much was filled in, in litres.</summary>
    public double Volume { get; }

    /// <summary>How it is kept.</summary>
    public BottleStorage Storage { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [SolutionId];
}

/// <summary>What happens to a bottle.</summary>
public enum BottleEventKind
{
    /// <summary>Opened.</summary>
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
    /// <exception cref="ImpossibleValueException">A volume is missing, or given where none belongs; or a new way of keeping says nothing.</exception>
    public BottleEvent(EntryStamp stamp, Guid bottleId, BottleEventKind kind, double? volume = null, BottleStorage? storage = null)
        : base(stamp)
    {
        (BottleId, Kind, Storage) = (bottleId, kind, storage);
        Volume = Liquid.Volume(volume, "The volume poured or topped up");
        if ((kind is BottleEventKind.Poured or BottleEventKind.ToppedUp) != (volume is not null))
        {
            throw new ImpossibleValueException("A volume belongs to pouring and topping up, and to nothing else.");
        }

        if ((kind == BottleEventKind.StoredAnew) != storage is { IsEmpty: false })
        {
            throw new ImpossibleValueException("A bottle that is stored anew needs its container, capacity, gas or temperature, and only such a one does.");
        }
    }

    /// <summary>The bottle.</summary>
    public Guid BottleId { get; }

    /// <summary>What happened.</summary>
    public BottleEventKind Kind { get; }

    /// <summary>How much was poured or topped up, in litres.</summary>
    public double? Volume { get; }

    /// <summary>How it is kept from then on.</summary>
    public BottleStorage? Storage { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [BottleId];
}
