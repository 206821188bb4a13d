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

    public int Count { get; }

    /// <summary>Area of one, in m², as it was counted when it was entered.</summary>
    public double AreaEach { get; }

    /// <summary>Area of all, in m².</summary>
    public double Area => Count * AreaEach;

    public static FilmCount Of(FilmFormat format, int count = 1) => new(format.Key, count, format.Area);

    /// <summary>An area in m² that is no format.</summary>
    public static FilmCount OfArea(double area) => new("area", 1, area);
}

/// <summary>Film that was processed: through which bottles, in which line.</summary>
public sealed record FilmUse : BookEntry
{
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
        // Area without a place would count for nothing and be missed by nobody.
        Guard.That(!BottleIds.IsEmpty || lineId is not null, "Film goes through a bottle or a line, or both; neither is named.");
    }

    public ImmutableArray<FilmCount> Films { get; }

    public ImmutableArray<Guid> BottleIds { get; }

    public Guid? LineId { get; }

    /// <summary>The control strip whose own area this is.</summary>
    public Guid? StripId { get; }

    /// <summary>Area of all, in m².</summary>
    public double Area => Films.Sum(f => f.Area);

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => LineId is { } line ? [.. BottleIds, line] : BottleIds;
}

/// <summary>A format of film or paper and the area that one of it has.</summary>
/// <param name="Key">Short word, such as <c>135-36</c>.</param>
/// <param name="Area">Area of one, in m².</param>
/// <param name="Basis">Where the number comes from.</param>
public sealed record FilmFormat(string Key, string Name, double Area, string Basis)
{
    /// <summary>The area that the trade counts as one roll: 80 in², in m².</summary>
    public const double Roll = 80 * SquareInch;

    /// <summary>One square inch, in m².</summary>
    public const double SquareInch = 0.0254 * 0.0254;

    /// <summary>The formats built in. Roll films vary a little from maker to maker: their areas are common values from memory, without a
    /// source; those of sheets, strips and lengths follow from their dimensions.</summary>
    public static ImmutableArray<FilmFormat> All { get; } =
    [
        new("135-36", "roll of 35 mm film, 36 exposures", 0.055, "value from memory; 0.053 to 0.057 m² by maker"),
        new("135-24", "roll of 35 mm film, 24 exposures", 0.040, "value from memory"),
        new("120", "roll film 120", 0.050, "value from memory"),
        new("220", "roll film 220", 0.100, "value from memory, twice 120"),
        Sheet(4, 5),
        Sheet(5, 7),
        Sheet(8, 10),
        new("strip", "control strip, 35 × 240 mm", 0.035 * 0.240, "calculated from its dimensions"),
        new("100ft", "35 mm motion-picture film, 100 ft", 0.035 * 30.48, "calculated: 35 mm × 30.48 m"),
    ];

    public static FilmFormat ControlStrip { get; } = Find("strip")!;

    /// <summary>Finds a format by its key, in any case and with an <c>in</c> behind sheets or not; null when there is none.</summary>
    public static FilmFormat? Find(string key)
    {
        var wanted = key.Trim().Replace('×', 'x');
        // As people write sizes: 4x5, 4×5, 4x5 in.
        wanted = wanted.EndsWith("in", StringComparison.OrdinalIgnoreCase) ? wanted[..^2].TrimEnd() : wanted;
        return All.FirstOrDefault(f => Keys.Same(f.Key, wanted));
    }

    private static FilmFormat Sheet(int width, int height) => new(
        $"{width}x{height}", $"sheet of {width} × {height} in", width * height * SquareInch, "calculated from its dimensions");
}
