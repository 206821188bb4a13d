namespace Acquire.Storage.Books;

/// <summary>A row of <c>book_entry</c>, joined with one of the table of its kind.</summary>
internal record EntryRow
{
    public long Sequence { get; init; }

    public string Id { get; init; } = "";

    public string HappenedAt { get; init; } = "";

    public string EnteredAt { get; init; } = "";

    public string EnteredBy { get; init; } = "";

    public string? Note { get; init; }

    public EntryStamp Stamp => new(Sql.Id(Id), Sql.Time(HappenedAt), Sql.Time(EnteredAt), EnteredBy);
}

internal sealed record LineRow : EntryRow
{
    public string Name { get; init; } = "";

    public string Kind { get; init; } = "";

    public string ProcessKey { get; init; } = "";
}

internal sealed record MethodRow : EntryRow
{
    public string LineId { get; init; } = "";

    public string? Agitation { get; init; }

    public double? Temperature { get; init; }

    public double? Seconds { get; init; }
}

internal sealed record SolutionRow : EntryRow
{
    public string Name { get; init; } = "";

    public string Kind { get; init; } = "";

    public string ProcessKey { get; init; } = "";

    public double Volume { get; init; }

    public string? ConcentrateLot { get; init; }
}

/// <summary>What a bottle and what happens to it have in common.</summary>
internal record StorageRow : EntryRow
{
    public double? Volume { get; init; }

    public string? Container { get; init; }

    public double? Capacity { get; init; }

    public string? Gas { get; init; }

    public double? Temperature { get; init; }

    public BottleStorage Storage => new(Container, Capacity, Gas, Temperature);
}

internal sealed record BottleRow : StorageRow
{
    public string Name { get; init; } = "";

    public string SolutionId { get; init; } = "";
}

internal sealed record BottleEventRow : StorageRow
{
    public string BottleId { get; init; } = "";

    public string Kind { get; init; } = "";
}

internal sealed record UseRow : EntryRow
{
    public string? LineId { get; init; }

    public string? StripId { get; init; }
}

internal sealed record FilmRow
{
    public string EntryId { get; init; } = "";

    public string Format { get; init; } = "";

    public int Count { get; init; }

    public double AreaEach { get; init; }
}

internal sealed record UsedBottleRow
{
    public string EntryId { get; init; } = "";

    public string BottleId { get; init; } = "";
}

internal sealed record MoveRow : EntryRow
{
    public string LotCode { get; init; } = "";

    public string Kind { get; init; } = "";

    public int Strips { get; init; }

    public string? StripId { get; init; }
}

internal sealed record EventRow : EntryRow
{
    public string Kind { get; init; } = "";

    public string Text { get; init; } = "";

    public string? LineId { get; init; }

    public string? BottleId { get; init; }
}

internal sealed record WithdrawalRow : EntryRow
{
    public string WithdrawnId { get; init; } = "";

    public string Reason { get; init; } = "";
}
