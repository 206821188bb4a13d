namespace Acquire.Instruments.Links;

/// <summary>What to do when a system refuses the parity: receive the bits some other way that gives the same bytes.</summary>
internal static class ParityFallback
{
    /// <summary>
    /// Settings that receive the same bytes without a parity bit, with a notice for the user. Seven data bits and a parity bit are
    /// eight bits on the line, the top one being cleared afterwards; eight data bits and a mark bit look like two stop bits.
    /// </summary>
    /// <exception cref="LinkException">There are no such settings.</exception>
    public static (LinkSettings Settings, string Notice) For(string port, LinkSettings refused)
    {
        var without = refused with { Parity = LineParity.None };
        var word = Word(refused.Parity);
        return refused switch
        {
            { DataBits: 7 } => (
                without with { DataBits = 8, MaskTopBit = true },
                $"{port} cannot take 7 data bits with {word} parity; it is read with 8 data bits without parity, and the top bit is "
                + $"cleared. "
                + "Wrong parity goes unseen."),
            { DataBits: 8, Parity: LineParity.Mark } => (
                without with { StopBits = 2 },
                $"{port} cannot take mark parity; it is read without parity and with 2 stop bits, which looks the same on the line."),
            _ => throw new LinkException(
                LinkFault.BadSettings,
                $"{port} cannot take {word} parity with {refused.DataBits} data bits, and there is no other way to read such a line. "
                + "Set the instrument to no parity, or use another adapter."),
        };
    }

    private static string Word(LineParity parity) => parity switch
    {
        LineParity.Even => "even",
        LineParity.Odd => "odd",
        LineParity.Mark => "mark",
        LineParity.Space => "space",
        _ => "no",
    };
}
