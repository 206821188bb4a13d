namespace Acquire.Formats;

/// <summary>How values look in the database: text that people and other programs can read, and that sorts as it should.</summary>
public static class Written
{
    private const string Day = "yyyy-MM-dd";

    /// <summary>UTC with its offset and ten-millionths of a second, always 33 characters, so that text order is time order.</summary>
    public static string Time(DateTimeOffset time) => time.ToUniversalTime().ToString("O", CultureInfo.InvariantCulture);

    public static DateTimeOffset Time(string text) =>
        DateTimeOffset.ParseExact(text, "O", CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind);

    public static string Id(Guid id) => id.ToString("D");

    public static string? Id(Guid? id) => id?.ToString("D");

    public static Guid Id(string text) => Guid.ParseExact(text, "D");

    public static Guid? OptionalId(string? text) => text is null ? null : Id(text);

    public static string? Date(DateOnly? date) => date?.ToString(Day, CultureInfo.InvariantCulture);

    public static DateOnly? Date(string? text) => text is null ? null : DateOnly.ParseExact(text, Day, CultureInfo.InvariantCulture);

    /// <summary>The digits as the instrument showed them, trailing zeros included.</summary>
    public static string? Density(Density? density) => density?.ToString();

    public static Density? Density(string? text) => text switch
    {
        null => null,
        _ when Domain.Densitometry.Density.TryParse(text, out var density) => density,
        _ => throw new FormatException($"'{text}' is no density"),
    };
}
