using System.Globalization;

namespace Acquire.Instruments.Links;

/// <summary>Where an instrument is: a serial port by path or name, or a TCP host and port.</summary>
public abstract record LinkAddress
{
    private LinkAddress()
    {
    }

    /// <summary>A serial port: <c>/dev/serial/by-id/…</c>, <c>/dev/ttyUSB0</c>, <c>COM3</c>.</summary>
    public sealed record Serial(string Path) : LinkAddress
    {
        /// <inheritdoc/>
        public override string ToString() => Path;
    }

    /// <summary>A serial-over-network server that passes raw bytes.</summary>
    public sealed record Tcp(string Host, int Port) : LinkAddress
    {
        /// <inheritdoc/>
        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"tcp:{Host}:{Port}");
    }

    /// <summary>Reads <c>tcp:HOST:PORT</c>, <c>serial:PATH</c> or a bare path or port name.</summary>
    /// <exception cref="LinkException">The text is empty or the TCP address is not HOST:PORT.</exception>
    public static LinkAddress Parse(string text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            throw new LinkException(LinkFault.BadSettings, "No port is named; expected a path such as /dev/ttyUSB0, COM3 or tcp:HOST:PORT.");
        }

        if (!text.StartsWith("tcp:", StringComparison.OrdinalIgnoreCase))
        {
            return new Serial(text.StartsWith("serial:", StringComparison.OrdinalIgnoreCase) ? text["serial:".Length..] : text);
        }

        var rest = text["tcp:".Length..];
        var colon = rest.LastIndexOf(':');
        return colon > 0 && ushort.TryParse(rest[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var port) && port > 0
            ? new Tcp(rest[..colon].Trim('[', ']'), port)
            : throw new LinkException(LinkFault.BadSettings, $"'{text}' is no TCP address; expected tcp:HOST:PORT with a port from 1 to 65535.");
    }
}
