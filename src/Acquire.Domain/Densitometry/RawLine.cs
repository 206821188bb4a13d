using System.Text;

namespace Acquire.Domain.Densitometry;

/// <summary>One line exactly as it was received, without its terminator.</summary>
/// <param name="Bytes">The bytes, top bit masked only where the profile says so.</param>
/// <param name="ReceivedAt">When its last byte arrived.</param>
public sealed record RawLine(ImmutableArray<byte> Bytes, DateTimeOffset ReceivedAt)
{
    /// <summary>The line for the eye, see <see cref="Printable"/>.</summary>
    public string Text => Printable(Bytes.AsSpan());

    /// <summary>Bytes for the eye: printable ASCII as it is, every other byte as <c>\xNN</c>.</summary>
    public static string Printable(ReadOnlySpan<byte> bytes)
    {
        var text = new StringBuilder(bytes.Length);
        foreach (var b in bytes)
        {
            _ = b is >= 0x20 and < 0x7F and not (byte)'\\'
                ? text.Append((char)b)
                : text.Append("\\x").Append(b.ToString("X2", CultureInfo.InvariantCulture));
        }

        return text.ToString();
    }

    /// <summary>Makes a line of ASCII text.</summary>
    public static RawLine OfText(string text, DateTimeOffset receivedAt) =>
        new([.. Encoding.Latin1.GetBytes(text)], receivedAt);
}
