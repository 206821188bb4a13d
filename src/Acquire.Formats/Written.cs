using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;
using System.Text.Json;

namespace Acquire.Formats;

/// <summary>How values look in the database: text that people and other programs can read, and that sorts as it should.</summary>
public static class Written
{
    private const string Day = "yyyy-MM-dd";

    /// <summary>UTC with its offset and ten-millionths of a second, always 33 characters, so that text order is time order.</summary>
    public static string Time(DateTimeOffset time) => time.ToUniversalTime().ToString("O", CultureInfo.InvariantCulture);

    public static string? Time(DateTimeOffset? time) => time is { } given ? Time(given) : null;

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

/// <summary>The names of an enumeration as files have them: lower case, words joined by an underscore.</summary>
[SuppressMessage("Design", "CA1000", Justification = "Words<Channel>.Of(channel) says best which words are meant.")]
public static class Words<T>
    where T : struct, Enum
{
    private static readonly FrozenDictionary<string, T> ByWord = Enum.GetValues<T>().ToFrozenDictionary(Of, StringComparer.Ordinal);

    public static string Of(T value) => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());

    public static T Parse(string word) => ByWord.TryGetValue(word, out var value) ? value : throw Unknown(word);

    /// <summary>
    /// The value by the letters of its name alone, in any case: files write <c>lux seconds</c>, those of earlier versions
    /// <c>lux_seconds</c>.
    /// </summary>
    public static T ByLetters(string word) =>
        Enum.TryParse<T>(new string([.. word.Where(char.IsLetter)]), ignoreCase: true, out var value) ? value : throw Unknown(word);

    private static FormatException Unknown(string word) =>
        new($"'{word}' is none of {string.Join(", ", ByWord.Keys.Order(StringComparer.Ordinal))}");
}

/// <summary>Densities as files have them: with exponents, and with decimals that only a computer adds.</summary>
public static class DensityText
{
    /// <summary>The number without the decimals beyond the sixth, which no instrument shows: a computer has counted with it.</summary>
    public static decimal Shown(decimal value) => value.Scale > Density.MostDecimals ? Math.Round(value, Density.MostDecimals) : value;

    /// <summary>Reads a density as it was shown. Never throws.</summary>
    public static bool TryRead(string text, out Density density)
    {
        var possible = decimal.TryParse(text.Trim(), NumberStyles.Float, CultureInfo.InvariantCulture, out var value)
            && Density.IsPossible(Shown(value));
        density = possible ? new Density(Shown(value)) : default;
        return possible;
    }
}
