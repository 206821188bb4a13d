namespace Acquire.Instruments.Links;

/// <summary>Parity of a serial line.</summary>
public enum LineParity
{
    /// <summary>No parity bit.</summary>
    None,

    /// <summary>Even parity.</summary>
    Even,

    /// <summary>Odd parity.</summary>
    Odd,

    /// <summary>Parity bit always 1; many systems refuse it.</summary>
    Mark,

    /// <summary>Parity bit always 0; many systems refuse it.</summary>
    Space,
}

/// <summary>Flow control of a serial line.</summary>
public enum Handshake
{
    /// <summary>None.</summary>
    None,

    /// <summary>RTS and CTS.</summary>
    RtsCts,

    /// <summary>XON and XOFF characters.</summary>
    XonXoff,
}

/// <summary>What is done with a modem control line when the port is opened.</summary>
public enum ControlLine
{
    /// <summary>Left untouched, the only choice that a pseudo-terminal accepts.</summary>
    Untouched,

    /// <summary>Raised.</summary>
    On,

    /// <summary>Lowered.</summary>
    Off,
}

/// <summary>How a serial line is set; a raw TCP link ignores all but the mask.</summary>
public sealed record LinkSettings
{
    /// <summary>Bits per second, 50 … 4,000,000. Default 9600.</summary>
    public int Baud { get; init; } = 9600;

    /// <summary>7 or 8. Default 8.</summary>
    public int DataBits { get; init; } = 8;

    /// <summary>Default none.</summary>
    public LineParity Parity { get; init; } = LineParity.None;

    /// <summary>1 or 2. Default 1.</summary>
    public int StopBits { get; init; } = 1;

    /// <summary>Default none.</summary>
    public Handshake Handshake { get; init; } = Handshake.None;

    /// <summary>Data terminal ready. Default untouched.</summary>
    public ControlLine Dtr { get; init; } = ControlLine.Untouched;

    /// <summary>Request to send. Default untouched.</summary>
    public ControlLine Rts { get; init; } = ControlLine.Untouched;

    /// <summary>Whether the top bit of every byte is cleared: seven-bit lines received as eight bits. Default no.</summary>
    public bool MaskTopBit { get; init; }

    /// <summary>How long to wait after opening, discarding what comes, for instruments that reset when opened. Default zero.</summary>
    public TimeSpan SettleAfterOpen { get; init; } = TimeSpan.Zero;
}
