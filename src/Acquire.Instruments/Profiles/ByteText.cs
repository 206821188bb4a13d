using System.Text;

namespace Acquire.Instruments.Profiles;

/// <summary>Bytes as a profile writes them: an ASCII character stands for itself, a control character has its name as in <c>&lt;CR&gt;</c>,
/// any byte may be written as <c>&lt;0x1B&gt;</c>, and <c>&lt;&lt;</c> stands for one <c>&lt;</c>.</summary>
/// <remarks>The names are those of ISO/IEC 646 (ECMA-6, ECMA-48).</remarks>
public static class ByteText
{
    private const byte Delete = 0x7F;

    private static readonly ImmutableArray<string> Names =
    [
        "NUL", "SOH", "STX", "ETX", "EOT", "ENQ", "ACK", "BEL", "BS", "HT", "LF", "VT", "FF", "CR", "SO", "SI",
        "DLE", "DC1", "DC2", "DC3", "DC4", "NAK", "SYN", "ETB", "CAN", "EM", "SUB", "ESC", "FS", "GS", "RS", "US",
    ];

    /// <exception cref="FormatException">It stands for no bytes; the message says at which character and what was expected.</exception>
    public static ImmutableArray<byte> Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var bytes = ImmutableArray.CreateBuilder<byte>(text.Length);
        for (var at = 0; at < text.Length;)
        {
            bytes.Add(Next(text, ref at));
        }

        return bytes.DrainToImmutable();
    }

    /// <summary>The one way in which bytes are shown; <see cref="Parse"/> gives them back.</summary>
    public static string Of(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder(bytes.Length);
        foreach (var b in bytes)
        {
            _ = b switch
            {
                (byte)'<' => text.Append("<<"),
                < 0x20 => text.Append('<').Append(Names[b]).Append('>'),
                Delete => text.Append("<DEL>"),
                < Delete => text.Append((char)b),
                _ => text.Append(CultureInfo.InvariantCulture, $"<0x{b:X2}>"),
            };
        }

        return text.ToString();
    }

    /// <summary>The control character of that name; null when there is none.</summary>
    internal static byte? Control(string name) =>
        name == "DEL" ? Delete : Names.IndexOf(name) is >= 0 and var code ? (byte)code : null;

    private static byte Next(string text, ref int at)
    {
        var start = at;
        var c = text[at++];
        if (c > Delete)
        {
            throw Wrong(text, start, $"'{c}' is no ASCII character; expected one, or a byte such as <0xE4>.");
        }

        if (c != '<')
        {
            return (byte)c;
        }

        if (at < text.Length && text[at] == '<')
        {
            at++;
            return (byte)'<';
        }

        var end = text.IndexOf('>', at);
        if (end < 0)
        {
            throw Wrong(text, start, "the < is not closed; expected a name such as <CR>, or << for the character itself.");
        }

        var inside = text[at..end];
        at = end + 1;
        return Control(inside) ?? Hexadecimal(inside) ?? throw Wrong(
            text,
            start, $"'<{inside}>' is no byte; expected the name of a control character such as <CR> or <ESC>, or a byte such as <0x1B>.");
    }

    private static byte? Hexadecimal(string inside) =>
        inside is ['0', 'x', _, _]
            && byte.TryParse(inside.AsSpan(2), NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture, out var b)
            ? b
            : null;

    private static FormatException Wrong(string text, int start, string problem) =>
        new(FormattableString.Invariant($"Bytes '{text}', character {start + 1}: {problem}"));
}
