using System.Text;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Lines;

/// <summary>Puts around a line what the instrument sends around it.</summary>
internal static class LineEnvelope
{
    public static byte[] Wrap(string text, FramingSettings framing) => Wrap(Encoding.Latin1.GetBytes(text), framing);

    public static byte[] Wrap(ReadOnlySpan<byte> line, FramingSettings framing) =>
    [
        .. One(framing.Start),
        .. line,
        .. One(framing.End),
        .. Terminator(framing.LineEnd),
    ];

    private static ReadOnlySpan<byte> Terminator(LineEnd end) => end switch
    {
        LineEnd.Any or LineEnd.CrLf => "\r\n"u8,
        LineEnd.LfCr => "\n\r"u8,
        LineEnd.Cr => "\r"u8,
        LineEnd.Lf => "\n"u8,
        _ => [],
    };

    private static byte[] One(byte? b) => b is { } value ? [value] : [];
}
