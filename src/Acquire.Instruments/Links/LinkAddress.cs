namespace Acquire.Instruments.Links;

/// <summary>Where an instrument is: a serial port by path or name, or a server by host and port.</summary>
public abstract record LinkAddress
{
    private LinkAddress() { }

    /// <summary>A serial port: <c>/dev/serial/by-id/…</c>, <c>/dev/ttyUSB0</c>, <c>COM3</c>.</summary>
    public sealed record Serial(string Path) : LinkAddress
    {
        public override string ToString() => Path;
    }

    /// <summary>A serial-over-network server that passes raw bytes.</summary>
    public sealed record Tcp(string Host, int Port) : LinkAddress
    {
        public override string ToString() => FormattableString.Invariant($"tcp:{Host}:{Port}");
    }

    /// <summary>A serial-over-network server that lets its port be set (RFC 2217).</summary>
    public sealed record Rfc2217(string Host, int Port) : LinkAddress
    {
        public override string ToString() => FormattableString.Invariant($"rfc2217:{Host}:{Port}");
    }

    /// <summary>Reads <c>tcp:HOST:PORT</c>, <c>rfc2217:HOST:PORT</c>, <c>serial:PATH</c> or a
    /// bare path or port name. Blanks around it are ignored.</summary>
    /// <exception cref="LinkException">The text names no port, or the TCP address is not HOST:PORT.</exception>
    public static LinkAddress Parse(string text)
    {
        var trimmed = (text ?? string.Empty).Trim();
        if (After("tcp:", trimmed) is { } address)
        {
            return ParseTcp(address) ?? throw new LinkException(
                LinkFault.BadSettings, $"'{text}' is no TCP address; expected tcp:HOST:PORT with a port from 1 to 65535.");
        }

        if (After("rfc2217:", trimmed) is { } server)
        {
            return ParseTcp(server) is { } at ? new Rfc2217(at.Host, at.Port) : throw new LinkException(
                LinkFault.BadSettings, $"'{text}' is no address of a server; expected rfc2217:HOST:PORT with a port from 1 to 65535.");
        }

        var path = After("serial:", trimmed) ?? trimmed;
        return path.Length > 0 && !path.Contains('\0', StringComparison.Ordinal)
            ? new Serial(path)
            : throw new LinkException(
                LinkFault.BadSettings, "No port is named; expected a path such as /dev/ttyUSB0, COM3, tcp:HOST:PORT or rfc2217:HOST:PORT.");
    }

    private static string? After(string prefix, string text) =>
        text.StartsWith(prefix, StringComparison.OrdinalIgnoreCase) ? text[prefix.Length..].Trim() : null;

    private static Tcp? ParseTcp(string address)
    {
        var colon = address.LastIndexOf(':');
        if (colon < 0 || !ushort.TryParse(address[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var port)
            || port == 0)
        {
            return null;
        }

        var host = address[..colon];
        host = host is ['[', .., ']'] ? host[1..^1] : host;
        return Uri.CheckHostName(host) == UriHostNameType.Unknown ? null : new Tcp(host, port);
    }
}
