namespace Acquire.Instruments.Links;

/// <summary>Writes data and messages as telnet wants them.</summary>
internal static class TelnetEncoder
{
    /// <summary>Data with every 0xFF doubled; the same memory when there is none.</summary>
    public static ReadOnlyMemory<byte> Data(ReadOnlyMemory<byte> bytes) =>
        bytes.Span.Contains(TelnetCode.Iac) ? Escaped(bytes.Span).ToArray() : bytes;

    /// <summary>WILL, WONT, DO or DONT with an option.</summary>
    public static byte[] Option(byte verb, byte option) => [TelnetCode.Iac, verb, option];

    /// <summary>The parameters of an option.</summary>
    public static byte[] Parameters(byte option, ReadOnlySpan<byte> bytes) =>
        [TelnetCode.Iac, TelnetCode.Begin, option, .. Escaped(bytes), TelnetCode.Iac, TelnetCode.End];

    private static List<byte> Escaped(ReadOnlySpan<byte> bytes)
    {
        List<byte> escaped = new(bytes.Length + 1);
        foreach (var b in bytes)
        {
            escaped.Add(b);
            if (b == TelnetCode.Iac)
            {
                escaped.Add(b);
            }
        }

        return escaped;
    }
}
