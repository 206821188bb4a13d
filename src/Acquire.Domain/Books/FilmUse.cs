namespace Acquire.Domain.Books;

/// <summary>So many of one format, or an area that is no format.</summary>
public sealed record FilmCount
{
    /// <summary>States a number of pieces.</summary>
    /// <exception cref="ImpossibleValueException">The count is below 1, or the area not above zero.</exception>
    public FilmCount(string format, int count, double areaEach)
    {
        Format = Guard.Text(format, "A film format");
        Count = count is >= 1 and <= 100_000
            ? count
            : throw new ImpossibleValueException($"A count of films is a whole number from 1, not {count}.");
        AreaEach = areaEach is > 0 and <= 100_000
            ? areaEach
            : throw new ImpossibleValueException($"An area is above zero, not {areaEach} m². To take an entry back: acquire undo");
    }

    /// <summary>Key of the format, or <c>area</c>.</summary>
    public string Format { get; }

    /// <summary>How many.</summary>
    public int Count { get; }

    /// <summary>Area of one, in m², as it was counted when it was entered.</summary>
    public double AreaEach { get; }

    /// <summary>Area of all, in m².</summary>
    public double Area => Count * AreaEach;

    /// <summary>So many of a format.</summary>
    public static FilmCount Of(FilmFormat format, int count = 1) => new(format.Key, count, format.Area);

    /// <summary>An area in m² that is no format.</summary>
    public static FilmCount OfArea(double area) => new("area", 1, area);
}

/// <summary>Film that was processed: through which bottles, in which line.</summary>
public sealed record FilmUse : BookEntry
{
    /// <summary>States a use.</summary>
    /// <param name="stamp">When, and by whom.</param>
    /// <param name="films">What was processed.</param>
    /// <param name="bottleIds">Every bottle it went through; each has its whole area.</param>
    /// <param name="lineId">The line; null when not noted.</param>
    /// <param name="stripId">The control strip whose own area this is; null for film.</param>
    /// <exception cref="ImpossibleValueException">No film, or neither bottle nor line, or a bottle twice.</exception>
    public FilmUse(EntryStamp stamp, ImmutableArray<FilmCount> films, ImmutableArray<Guid> bottleIds, Guid? lineId, Guid? stripId = null)
        : base(stamp)
    {
        Films = Guard.NotEmpty(films, "What was processed");
        BottleIds = bottleIds.IsDefault ? [] : bottleIds;
        Guard.Unique(BottleIds, b => b.ToString(), "The bottle");
        (LineId, StripId) = (lineId, stripId);
        if (BottleIds.IsEmpty && lineId is null)
        {
            throw new ImpossibleValueException("Film goes through a bottle or a line, or both; neither is named.");
        }
    }

    /// <summary>What was processed.</summary>
    public ImmutableArray<FilmCount> Films { get; }

    /// <summary>The bottles.</summary>
    public ImmutableArray<Guid> BottleIds { get; }

    /// <summary>The line.</summary>
    public Guid? LineId { get; }

    /// <summary>The control strip whose own area this is.</summary>
    public Guid? StripId { get; }

    /// <summary>Area of all, in m².</summary>
    public double Area => Films.Sum(f => f.Area);

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => LineId is { } line ? [.. BottleIds, line] : BottleIds;
}
