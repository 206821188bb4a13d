namespace Acquire.Domain.Records;

/// <summary>
/// Ids are UUID v7: they begin with the time, so that strips of one evening begin alike, and end at random. The short form is
/// therefore the end. To find a strip, any beginning or end of its id of four digits or more will do, and any beginning of the short form
/// that is shown, if it fits one strip only.
/// </summary>
public static class StripId
{
    /// <summary>The fewest hexadecimal digits that are taken for a part of an id.</summary>
    public const int FewestDigits = 4;

    /// <summary>How many digits the short form has.</summary>
    public const int ShortDigits = 8;

    /// <summary>The last eight hexadecimal digits.</summary>
    public static string ShortForm(Guid id) => id.ToString("N")[^ShortDigits..];

    /// <summary>Whether an id begins or ends so, or its short form begins so.</summary>
    /// <param name="id">All hexadecimal digits of the id, without hyphens.</param>
    /// <param name="digits">The part, likewise.</param>
    public static bool Fits(string id, string digits) =>
        id.StartsWith(digits, StringComparison.OrdinalIgnoreCase)
        || id.EndsWith(digits, StringComparison.OrdinalIgnoreCase)
        || id[^ShortDigits..].StartsWith(digits, StringComparison.OrdinalIgnoreCase);

    /// <summary>The hexadecimal digits of an id or a part of one, hyphens left out; null when the text is no such thing.</summary>
    public static string? Digits(string text)
    {
        var digits = text.Trim().Replace("-", "", StringComparison.Ordinal).ToLowerInvariant();
        return digits.Length is >= FewestDigits and <= 32 && digits.All(char.IsAsciiHexDigit) ? digits : null;
    }
}
