using System.Text.RegularExpressions;

namespace Acquire.Bench.Books;

/// <summary>Reads volumes, areas and films as people write them.</summary>
public static partial class Amounts
{
    /// <summary>A volume in litres, from <c>1L</c>, <c>0.5 l</c> or <c>500ml</c>.</summary>
    /// <exception cref="BenchException">It is none, has no unit, or is not above zero.</exception>
    public static double Volume(string text) => TryVolume(text) switch
    {
        null => throw new BenchException($"'{text}' is no volume; expected a number with its unit, such as 1L, 0.5L or 500ml."),
        > 0 and var litres => litres,
        _ => throw new BenchException($"A volume is above zero, not {text}."),
    };

    /// <summary>The same; null when it is no volume. It may be zero or less.</summary>
    public static double? TryVolume(string text) => VolumeText().Match(text) is { Success: true } parts && Number(parts) is { } number
        ? parts.Groups["unit"].Value.ToUpperInvariant() switch { "ML" => number / 1000, "CL" => number / 100, _ => number }
        : null;

    /// <summary>
    /// Films from <c>135-36</c>, <c>2x135-36</c>, <c>6x4x5</c> (six sheets of 4 × 5 in), or an area from <c>0.2m2</c>, <c>80in2</c>.
    /// </summary>
    /// <exception cref="BenchException">It is neither; the message lists the formats.</exception>
    /// <exception cref="Domain.ImpossibleValueException">The count is below 1, or the area not above zero.</exception>
    public static FilmCount Films(string text)
    {
        var wanted = text.Trim();
        // Formats go first: 4x5 is a sheet, not four of a format 5.
        if (FilmFormat.Find(wanted) is { } one)
        {
            return FilmCount.Of(one);
        }

        if (AreaText().Match(wanted) is { Success: true } area && Number(area) is { } number)
        {
            return FilmCount.OfArea(
                area.Groups["unit"].Value.StartsWith("m", StringComparison.OrdinalIgnoreCase) ? number : number * FilmFormat.SquareInch);
        }

        return CountText().Match(wanted) is { Success: true } parts && FilmFormat.Find(parts.Groups["format"].Value) is { } format
            && int.TryParse(parts.Groups["count"].Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var count)
            ? FilmCount.Of(format, count)
            : throw new BenchException(
                $"'{text}' is no film and no area; expected such as 2x135-36, 120, 4x5 or 0.2m2. Formats: "
                + $"{string.Join(", ", FilmFormat.All.Select(f => f.Key))}.");
    }

    /// <summary>A developing time: <c>3:15</c> or so many seconds; null for none.</summary>
    /// <exception cref="BenchException">It is no time.</exception>
    public static TimeSpan? Duration(string? text) => text switch
    {
        null => null,
        _ when int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var seconds) => TimeSpan.FromSeconds(seconds),
        _ when TimeSpan.TryParseExact(text, [@"m\:ss", @"mm\:ss", @"h\:mm\:ss"], CultureInfo.InvariantCulture, out var time) => time,
        _ => throw new BenchException(
            $"'{text}' is no developing time; expected minutes and seconds such as 3:15, or seconds such as 195."),
    };

    private static double? Number(Match parts) =>
        double.TryParse(parts.Groups["number"].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            && double.IsFinite(number)
            ? number
            : null;

    [GeneratedRegex(
        @"^\s*(?<number>[-+]?\d+(?:\.\d+)?)\s*(?<unit>ml|cl|l|litres?)\s*$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex VolumeText();

    [GeneratedRegex(@"^(?<number>[-+]?\d+(?:\.\d+)?)\s*(?<unit>m2|m²|in2|in²)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex AreaText();

    [GeneratedRegex(@"^(?<count>[-+]?\d+)\s*[x×*]\s*(?<format>.+)$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex CountText();
}
