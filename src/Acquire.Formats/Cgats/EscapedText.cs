using System.Text;

namespace Acquire.Formats.Cgats;

/// <summary>
/// Text of any script in printable ASCII without quotes: a backslash, a quote and what is not printable ASCII become <c>\uNNNN</c>, four
/// hexadecimal digits of a UTF-16 unit. The format has no escape of its own.
/// </summary>
internal static class EscapedText
{
    public static string Of(string? text)
    {
        if (text is null || text.All(IsPlain))
        {
            return text ?? "";
        }

        var escaped = new StringBuilder();
        foreach (var c in text)
        {
            _ = IsPlain(c) ? escaped.Append(c) : escaped.Append("\\u").Append(((int)c).ToString("X4", CultureInfo.InvariantCulture));
        }

        return escaped.ToString();
    }

    /// <summary>The text again; a backslash that begins no escape stays as it is.</summary>
    public static string Back(string escaped)
    {
        var text = new StringBuilder();
        for (var i = 0; i < escaped.Length; i++)
        {
            if (escaped[i] == '\\' && i + 5 < escaped.Length && escaped[i + 1] == 'u'
                && ushort.TryParse(escaped.AsSpan(i + 2, 4), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var unit))
            {
                _ = text.Append((char)unit);
                i += 5;
            }
            else
            {
                _ = text.Append(escaped[i]);
            }
        }

        return text.ToString();
    }

    private static bool IsPlain(char c) => c is >= ' ' and <= '~' and not ('"' or '\\');
}
