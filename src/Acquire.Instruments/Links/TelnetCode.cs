namespace Acquire.Instruments.Links;

/// <summary>The bytes of the telnet protocol that a serial line needs (RFC 854, RFC 856, RFC 858, RFC 2217).</summary>
internal static class TelnetCode
{
    /// <summary>Interpret as command; doubled, it stands for itself.</summary>
    public const byte Iac = 255;

    /// <summary>Do not use an option, or agreement not to.</summary>
    public const byte Dont = 254;

    /// <summary>Use an option, or agreement to.</summary>
    public const byte Do = 253;

    /// <summary>The sender does not use an option.</summary>
    public const byte Wont = 252;

    /// <summary>The sender wants to use an option, or agrees to.</summary>
    public const byte Will = 251;

    public const byte Begin = 250;

    public const byte End = 240;

    /// <summary>Eight-bit data without changes (RFC 856).</summary>
    public const byte Binary = 0;

    /// <summary>No go-ahead after each message (RFC 858).</summary>
    public const byte SuppressGoAhead = 3;

    /// <summary>The serial port behind the server can be set (RFC 2217).</summary>
    public const byte ComPort = 44;
}

/// <summary>Writes data and messages as telnet wants them.</summary>
internal static class TelnetEncoder
{
    /// <summary>Data with every 0xFF doubled; the same memory when there is none.</summary>
    public static ReadOnlyMemory<byte> Data(ReadOnlyMemory<byte> bytes) =>
        bytes.Span.Contains(TelnetCode.Iac) ? Escaped(bytes.Span).ToArray() : bytes;

    public static byte[] Option(byte verb, byte option) => [TelnetCode.Iac, verb, option];

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

/// <summary>Something the server said that is no data.</summary>
internal abstract record TelnetMessage
{
    public sealed record Option(byte Verb, byte Code) : TelnetMessage;

    /// <summary>The parameters of an option, unescaped.</summary>
    public sealed record Parameters(byte Code, ImmutableArray<byte> Bytes) : TelnetMessage;
}

/// <summary>Tells data from telnet messages in a stream that is cut anywhere. It holds a bounded part of a message.</summary>
internal sealed class TelnetDecoder
{
    private const int MostParameters = 256;

    private readonly List<byte> _parameters = [];
    private State _state;
    private byte _verb;

    private enum State
    {
        Data,
        AfterIac,
        AfterVerb,
        Parameters,
        ParametersAfterIac,
    }

    /// <summary>Takes a chunk, adds its data to one list and its messages to the other.</summary>
    public void Push(ReadOnlySpan<byte> chunk, List<byte> data, List<TelnetMessage> messages)
    {
        foreach (var b in chunk)
        {
            _state = _state switch
            {
                State.Data => TakeData(b, data),
                State.AfterIac => TakeCommand(b, data),
                State.AfterVerb => TakeOption(b, messages),
                State.Parameters => TakeParameter(b),
                _ => TakeAfterIac(b, data, messages),
            };
        }
    }

    private static State TakeData(byte b, List<byte> data)
    {
        if (b == TelnetCode.Iac)
        {
            return State.AfterIac;
        }

        data.Add(b);
        return State.Data;
    }

    private State TakeCommand(byte b, List<byte> data)
    {
        switch (b)
        {
            case TelnetCode.Iac:
                data.Add(b);
                return State.Data;
            case >= TelnetCode.Will:
                _verb = b;
                return State.AfterVerb;
            case TelnetCode.Begin:
                _parameters.Clear();
                return State.Parameters;
            default:
                return State.Data; // a command without parameters, such as no operation
        }
    }

    private State TakeOption(byte b, List<TelnetMessage> messages)
    {
        messages.Add(new TelnetMessage.Option(_verb, b));
        return State.Data;
    }

    private State TakeParameter(byte b)
    {
        if (b == TelnetCode.Iac)
        {
            return State.ParametersAfterIac;
        }

        if (_parameters.Count < MostParameters)
        {
            _parameters.Add(b);
        }

        return State.Parameters;
    }

    private State TakeAfterIac(byte b, List<byte> data, List<TelnetMessage> messages)
    {
        if (b == TelnetCode.Iac)
        {
            if (_parameters.Count < MostParameters)
            {
                _parameters.Add(b);
            }

            return State.Parameters;
        }

        if (_parameters.Count > 0)
        {
            messages.Add(new TelnetMessage.Parameters(_parameters[0], [.. _parameters.Skip(1)]));
        }

        // Anything but an end here means that the end was lost: the command counts (RFC 855 leaves it open).
        return b == TelnetCode.End ? State.Data : TakeCommand(b, data);
    }
}
