namespace Acquire.Domain.Books;

/// <summary>A format of film or paper and the area that one of it has.</summary>
/// <param name="Key">Short word, such as <c>135-36</c>.</param>
/// <param name="Name">What it is.</param>
/// <param name="Area">Area of one, in m².</param>
/// <param name="Basis">Where the number comes from.</param>
public sealed record FilmFormat(string Key, string Name, double Area, string Basis)
{
    /// <summary>The area that the trade counts as one roll: 80 in², in m².</summary>
    public const double Roll = 80 * SquareInch;

    private const double SquareInch = 0.0254 * 0.0254;

    /// <summary>
    /// The formats built in. Roll films vary a little from maker to maker: their areas are common values from memory, without a source;
    /// those of sheets, strips and lengths follow from their dimensions.
    /// </summary>
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

    /// <summary>The control strip.</summary>
    public static FilmFormat ControlStrip { get; } = Find("strip")!;

    /// <summary>Finds a format by its key, in any case and with an <c>in</c> behind sheets or not; null when there is none.</summary>
    public static FilmFormat? Find(string key)
    {
        var wanted = key.Trim().Replace('×', 'x');
        wanted = wanted.EndsWith("in", StringComparison.OrdinalIgnoreCase) ? wanted[..^2].TrimEnd() : wanted;
        return All.FirstOrDefault(f => string.Equals(f.Key, wanted, StringComparison.OrdinalIgnoreCase));
    }

    private static FilmFormat Sheet(int width, int height) => new(
        $"{width}x{height}", $"sheet of {width} × {height} in", width * height * SquareInch, "calculated from its dimensions");
}
