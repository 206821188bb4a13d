namespace Acquire.Instruments.Links;

/// <summary>Something the server said that is no data.</summary>
internal abstract record TelnetMessage
{
    /// <summary>WILL, WONT, DO or DONT with an option.</summary>
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
