namespace Acquire.Instruments.Links;

public enum LineParity
{
    None,
    Even,
    Odd,

    /// <summary>Parity bit always 1; many systems refuse it.</summary>
    Mark,

    /// <summary>Parity bit always 0; many systems refuse it.</summary>
    Space,
}

public enum Handshake
{
    None,
    RtsCts,
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

    public LineParity Parity { get; init; } = LineParity.None;

    /// <summary>1 or 2. Default 1.</summary>
    public int StopBits { get; init; } = 1;

    public Handshake Handshake { get; init; } = Handshake.None;

    /// <summary>Data terminal ready. Default untouched.</summary>
    public ControlLine Dtr { get; init; } = ControlLine.Untouched;

    /// <summary>Request to send. Default untouched.</summary>
    public ControlLine Rts { get; init; } = ControlLine.Untouched;

    /// <summary>Whether the top bit of every byte is cleared: seven-bit lines received as eight bits. Default no.</summary>
    public bool MaskTopBit { get; init; }

    /// <summary>What is kept of every byte: seven bits where that is all the line carries.</summary>
    internal byte Mask => MaskTopBit || DataBits == 7 ? (byte)0x7F : (byte)0xFF;

    /// <summary>How long to wait after opening, discarding what comes, for instruments that reset when opened. Default zero.</summary>
    public TimeSpan SettleAfterOpen { get; init; } = TimeSpan.Zero;
}

/// <summary>Line settings in the usual short form, such as <c>9600 8N1</c>: bits per second, data bits, parity, stop bits.</summary>
public static class LinkWords
{
    public static string Of(LinkSettings link) => FormattableString.Invariant(
        $"{link.Baud} {link.DataBits}{link.Parity.ToString()[0]}{link.StopBits}");

    /// <summary>Reads the short form; what it does not say has its default. Null for any other text, also for none.</summary>
    public static LinkSettings? TryParse(string? text)
    {
        if ((text ?? "").Split(' ') is not [var rate, [var data and ('7' or '8'), var letter, var stop and ('1' or '2')]]
            || !int.TryParse(rate, NumberStyles.None, CultureInfo.InvariantCulture, out var baud) || baud == 0)
        {
            return null;
        }

        var parity = Enum.GetValues<LineParity>().Cast<LineParity?>().FirstOrDefault(p => p.ToString()![0] == letter);
        return parity is { } known ? new LinkSettings { Baud = baud, DataBits = data - '0', Parity = known, StopBits = stop - '0' } : null;
    }
}

/// <summary>Refuses line settings that no port can have, before a port is touched.</summary>
internal static class SettingsCheck
{
    private const int LeastBaud = 50;
    private const int LargestBaud = 4_000_000;
    private static readonly TimeSpan LongestSettle = TimeSpan.FromMinutes(1);

    /// <summary>Checks the bounds that <see cref="LinkSettings"/> states.</summary>
    /// <exception cref="LinkException">A setting is out of bounds; the message names each that is.</exception>
    public static void Demand(LinkSettings settings)
    {
        List<string> wrong = [];
        if (settings.Baud is < LeastBaud or > LargestBaud)
        {
            wrong.Add(FormattableString.Invariant($"{settings.Baud} baud; expected {LeastBaud} to {LargestBaud}"));
        }

        if (settings.DataBits is not (7 or 8))
        {
            wrong.Add(FormattableString.Invariant($"{settings.DataBits} data bits; expected 7 or 8"));
        }

        if (settings.StopBits is not (1 or 2))
        {
            wrong.Add(FormattableString.Invariant($"{settings.StopBits} stop bits; expected 1 or 2"));
        }

        if (settings.SettleAfterOpen < TimeSpan.Zero || settings.SettleAfterOpen > LongestSettle)
        {
            wrong.Add(FormattableString.Invariant($"a settling time of {settings.SettleAfterOpen}; expected 0 to 1 minute"));
        }

        if (wrong.Count > 0)
        {
            throw new LinkException(LinkFault.BadSettings, $"The line cannot be set so: {string.Join("; ", wrong)}.");
        }
    }
}

/// <summary>What to do when a system refuses the parity: receive the bits some other way that gives the same bytes.</summary>
internal static class ParityFallback
{
    /// <summary>Settings that receive the same bytes without a parity bit, with a notice for the user. Seven data bits and a parity bit are
    /// eight bits on the line, the top one being cleared afterwards; eight data bits and a mark bit look like two stop bits.</summary>
    /// <exception cref="LinkException">There are no such settings.</exception>
    public static (LinkSettings Settings, string Notice) For(string port, LinkSettings refused)
    {
        var without = refused with { Parity = LineParity.None };
        var word = refused.Parity.ToString().ToLowerInvariant();
        return refused switch
        {
            { DataBits: 7 } => (
                without with { DataBits = 8, MaskTopBit = true },
                $"{port} cannot take 7 data bits with {word} parity; it is read with 8 data bits without parity, and the top bit is "
                + "cleared. Wrong parity goes unseen."),
            { DataBits: 8, Parity: LineParity.Mark } => (
                without with { StopBits = 2 },
                $"{port} cannot take mark parity; it is read without parity and with 2 stop bits, which looks the same on the line."),
            _ => throw new LinkException(
                LinkFault.BadSettings,
                $"{port} cannot take {word} parity with {refused.DataBits} data bits, and there is no other way to read such a line. Set "
                + "the instrument to no parity, or use another adapter."),
        };
    }
}
