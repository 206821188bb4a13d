using System.Diagnostics.CodeAnalysis;

namespace Acquire.Instruments.Captures;

/// <summary>The words of a capture file, see README.md beside this file.</summary>
internal static class CaptureText
{
    public const string FirstLine = "# acquire capture 1";
    public const string PortKey = "port";
    public const string ProfileKey = "profile";
    public const string SettingsKey = "settings";

    /// <summary>Marks a link that broke.</summary>
    public const string Break = @"\break";

    /// <summary>Marks the end of the capture.</summary>
    public const string End = @"\end";

    /// <summary>A line with the bytes as <see cref="RawLine.Printable"/> shows them.</summary>
    public static string Line(DateTimeOffset at, ReadOnlySpan<byte> bytes) => Line(at, RawLine.Printable(bytes));

    public static string Line(DateTimeOffset at, string text) => string.Create(CultureInfo.InvariantCulture, $"{at:O}\t{text}");

    public static string Comment(string key, string value) => $"# {key}: {value.ReplaceLineEndings(" ")}";

    /// <summary>Splits a line into its time and its text.</summary>
    public static bool TrySplit(string line, out DateTimeOffset at, [NotNullWhen(true)] out string? text)
    {
        var tab = line.IndexOf('\t', StringComparison.Ordinal);
        text = tab < 0 ? null : line[(tab + 1)..];
        at = default;
        return tab > 0
            && DateTimeOffset.TryParse(line.AsSpan(0, tab), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out at);
    }

    /// <summary>Reads bytes from text; gives the place, from 0, of what is no byte, or −1 when all are.</summary>
    public static int Unescape(string text, List<byte> into)
    {
        into.Clear();
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] is >= ' ' and <= '~' and not '\\')
            {
                into.Add((byte)text[i]);
            }
            else if (text.AsSpan(i) is ['\\', 'x', _, _, ..]
                && byte.TryParse(text.AsSpan(i + 2, 2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var b))
            {
                into.Add(b);
                i += 3;
            }
            else
            {
                return i;
            }
        }

        return -1;
    }
}
