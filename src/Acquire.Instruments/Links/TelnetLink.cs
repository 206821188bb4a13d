namespace Acquire.Instruments.Links;

/// <summary>A link to a server that lets its serial port be set (RFC 2217). Data in both directions is escaped; what the server
/// says in between is answered by the task that reads.</summary>
internal sealed class TelnetLink(IByteLink raw, byte mask) : IByteLink
{
    private readonly byte[] _received = new byte[4096];
    private readonly TelnetDecoder _decoder = new();
    private readonly TelnetOptions _options = new();
    private readonly List<byte> _data = [];
    private readonly List<TelnetMessage> _messages = [];
    private readonly SemaphoreSlim _sending = new(1);
    private int _given;

    public string Name => raw.Name;

    public ImmutableArray<string> Notices { get; internal set; } = [];

    public LinkException? Fault => raw.Fault;

    /// <summary>Whether the server lets the port be set; null while it has not said.</summary>
    public bool? ComPort => _options.ComPort;

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken)
    {
        ArgumentOutOfRangeException.ThrowIfZero(buffer.Length);
        // A message without data must not look like the end of the link, so it is read on.
        while (_given == _data.Count)
        {
            _ = await ReceiveAsync(cancellationToken);
        }

        var count = Math.Min(buffer.Length, _data.Count - _given);
        for (var i = 0; i < count; i++)
        {
            buffer.Span[i] = (byte)(_data[_given + i] & mask);
        }

        _given += count;
        return count;
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) =>
        SendAsync(TelnetEncoder.Data(bytes), cancellationToken);

    /// <summary>Receives once, keeps the data for the reader, answers what is to be answered, and gives the server's parameters.</summary>
    /// <exception cref="LinkException">The link broke.</exception>
    public async ValueTask<ImmutableArray<TelnetMessage.Parameters>> ReceiveAsync(CancellationToken cancellationToken)
    {
        var count = await raw.ReadAsync(_received, cancellationToken);
        if (_given == _data.Count)
        {
            _data.Clear();
            _given = 0;
        }

        _messages.Clear();
        _decoder.Push(_received.AsSpan(0, count), _data, _messages);
        foreach (var said in _messages.OfType<TelnetMessage.Option>())
        {
            if (_options.Answer(said) is { } answer)
            {
                // Not cancellable: a read that is cancelled must leave a link that can still be read.
                await SendAsync(answer, CancellationToken.None);
            }
        }

        return [.. _messages.OfType<TelnetMessage.Parameters>()];
    }

    /// <summary>Sends bytes as they are.</summary>
    /// <exception cref="LinkException">The link broke.</exception>
    public async ValueTask SendAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken)
    {
        await _sending.WaitAsync(cancellationToken);
        try
        {
            await raw.WriteAsync(bytes, cancellationToken);
        }
        finally
        {
            _ = _sending.Release();
        }
    }

    /// <summary>Forgets the data that has come and has not been read.</summary>
    public void DiscardReceived() => _given = _data.Count;

    public async ValueTask DisposeAsync()
    {
        await raw.DisposeAsync();
        _sending.Dispose();
    }
}

/// <summary>Which options are in use, ours and the server's. An answer is given only where something changes, so that two polite
/// sides do not answer each other for ever (RFC 854).</summary>
internal sealed class TelnetOptions
{
    // What is asked for at the opening counts as agreed, so that a server's yes changes nothing and is not answered.
    private readonly HashSet<byte> _ours = [.. Wanted];
    private readonly HashSet<byte> _theirs = [.. WantedOfServer];

    /// <summary>Whether the server has agreed that the port be set, or refused; null while it has not said.</summary>
    public bool? ComPort { get; private set; }

    private static ReadOnlySpan<byte> Wanted => [TelnetCode.Binary, TelnetCode.SuppressGoAhead, TelnetCode.ComPort];

    private static ReadOnlySpan<byte> WantedOfServer => [TelnetCode.Binary, TelnetCode.SuppressGoAhead];

    /// <summary>What to send first.</summary>
    public static byte[] Opening()
    {
        List<byte> all = [];
        foreach (var option in Wanted)
        {
            all.AddRange(TelnetEncoder.Option(TelnetCode.Will, option));
        }

        foreach (var option in WantedOfServer)
        {
            all.AddRange(TelnetEncoder.Option(TelnetCode.Do, option));
        }

        return [.. all];
    }

    /// <summary>Takes what the server says; gives the answer, or null where none is due.</summary>
    public byte[]? Answer(TelnetMessage.Option said)
    {
        if (said.Code == TelnetCode.ComPort && said.Verb is TelnetCode.Do or TelnetCode.Dont)
        {
            ComPort = said.Verb == TelnetCode.Do;
        }

        return said.Verb switch
        {
            TelnetCode.Do when !_ours.Contains(said.Code) => TelnetEncoder.Option(TelnetCode.Wont, said.Code),
            TelnetCode.Dont when _ours.Remove(said.Code) => TelnetEncoder.Option(TelnetCode.Wont, said.Code),
            TelnetCode.Will when said.Code == TelnetCode.ComPort && _theirs.Add(said.Code) =>
                TelnetEncoder.Option(TelnetCode.Do, said.Code),
            TelnetCode.Will when !_theirs.Contains(said.Code) => TelnetEncoder.Option(TelnetCode.Dont, said.Code),
            TelnetCode.Wont when _theirs.Remove(said.Code) => TelnetEncoder.Option(TelnetCode.Dont, said.Code),
            _ => null,
        };
    }
}
