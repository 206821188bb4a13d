using System.Text;
using System.Text.RegularExpressions;

namespace Acquire.Formats.Workbooks;

/// <summary>Text as a cell may hold it (ECMA-376 part 1, 22.9.2.19, ST_Xstring): what XML cannot hold becomes <c>_xNNNN_</c>.</summary>
internal static partial class XlsxText
{
    /// <summary>The longest text of a cell, in characters. Source: the limits that spreadsheets state.</summary>
    private const int Longest = 32_767;

    public static string Of(string text)
    {
        var escaped = new StringBuilder();
        foreach (var rune in Likeness().Replace(text, "_x005F_").EnumerateRunes())
        {
            _ = rune.Value is '\t' or '\n' or >= 0x20 and not (0xFFFE or 0xFFFF)
                ? escaped.Append(rune.ToString())
                : escaped.Append(CultureInfo.InvariantCulture, $"_x{rune.Value:X4}_");
        }

        return escaped.Length <= Longest ? escaped.ToString() : escaped.ToString(0, Longest - 1) + "…";
    }

    /// <summary>The underscore of a text that looks like an escape.</summary>
    [GeneratedRegex("_(?=x[0-9A-Fa-f]{4}_)", RegexOptions.CultureInvariant)]
    private static partial Regex Likeness();
}
