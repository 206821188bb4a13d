namespace Acquire.Instruments.Links;

/// <summary>
/// Which options are in use, ours and the server's. An answer is given only where something changes, so that two polite sides do not
/// answer each other for ever (RFC 854).
/// </summary>
internal sealed class TelnetOptions
{
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
