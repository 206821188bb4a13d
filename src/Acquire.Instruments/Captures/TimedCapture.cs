using System.Diagnostics.CodeAnalysis;

namespace Acquire.Instruments.Captures;

/// <summary>Reads the text of a capture file.</summary>
internal static class TimedCapture
{
    /// <summary>Reads it. A last line that was cut when the program that wrote it ended is left out.</summary>
    /// <exception cref="CaptureException">A line is no capture line.</exception>
    public static Capture Parse(string text, string name)
    {
        var comments = new Dictionary<string, string>(StringComparer.Ordinal);
        var chunks = ImmutableArray.CreateBuilder<CaptureChunk>();
        DateTimeOffset? ended = null;
        List<byte> bytes = [];
        var number = 0;
        foreach (var range in text.AsSpan().Split('\n'))
        {
            number++;
            var isCut = range.End.Value == text.Length;
            var line = text[range].TrimEnd('\r');
            if (line.Length == 0)
            {
                continue;
            }

            if (line[0] == '#')
            {
                TakeComment(line, comments);
            }
            else if (Problem(line, bytes, out var at, out var mark) is { } problem)
            {
                // A last line without an end was being written when the program died; all before it stands.
                if (!isCut)
                {
                    throw new CaptureException(FormattableString.Invariant(
                        $"{name}, line {number}: {problem}. Expected a time, a tab and the bytes received."));
                }
            }
            else if (mark == CaptureText.End)
            {
                ended = at;
            }
            else
            {
                chunks.Add(new CaptureChunk(at, [.. bytes]));
            }
        }

        return new Capture(
            CaptureKind.Timed, comments.GetValueOrDefault(CaptureText.PortKey),
            comments.GetValueOrDefault(CaptureText.ProfileKey), comments.GetValueOrDefault(CaptureText.SettingsKey),
            chunks.ToImmutable(), ended);
    }

    private static void TakeComment(string line, Dictionary<string, string> comments)
    {
        if (line.AsSpan(1).IndexOf(": ") is > 0 and var colon)
        {
            // The port and the profile are those of the beginning; the settings may have been changed, and the last are in force.
            var (key, value) = (line[1..(colon + 1)].Trim(), line[(colon + 3)..].Trim());
            comments[key] = key == CaptureText.SettingsKey ? value : comments.GetValueOrDefault(key, value);
        }
    }

    private static string? Problem(string line, List<byte> bytes, out DateTimeOffset at, out string? mark)
    {
        mark = null;
        bytes.Clear();
        if (!CaptureText.TrySplit(line, out at, out var text))
        {
            return "it does not begin with a time and a tab";
        }

        if (text is CaptureText.Break or CaptureText.End)
        {
            mark = text;
            return null;
        }

        return CaptureText.Unescape(text, bytes) is >= 0 and var place
            ? FormattableString.Invariant($"character {place + 1} of the bytes is neither printable nor \\xNN")
            : null;
    }
}

/// <summary>The words of a capture file, see README.md beside this file.</summary>
internal static class CaptureText
{
    public const string FirstLine = "# acquire capture 1";
    public const string PortKey = "port";
    public const string ProfileKey = "profile";
    public const string SettingsKey = "settings";

    public const string Break = @"\break";

    public const string End = @"\end";

    public static string Line(DateTimeOffset at, string text) => FormattableString.Invariant($"{at:O}\t{text}");

    public static string Comment(string key, string value) => $"# {key}: {value.ReplaceLineEndings(" ")}";

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
