using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>The line settings of a learned profile: those in force when the bytes came, with the parity that the top bits prove.</summary>
internal static class LearnedLink
{
    /// <summary>The settings.</summary>
    /// <param name="known">How the line was set; null where that is not known.</param>
    /// <param name="topBit">What the top bit of the bytes carries.</param>
    /// <remarks>
    /// The top bit is cleared besides real parity: a port that takes seven bits never sets it, and a capture made at eight bits can be
    /// replayed.
    /// </remarks>
    public static LinkSettings Of(LinkSettings? known, TopBit topBit)
    {
        var link = (known ?? new LinkSettings()) with { MaskTopBit = known is { MaskTopBit: true } || topBit != TopBit.Data };
        return Proved(known, topBit) is { } parity ? link with { DataBits = 7, Parity = parity } : link;
    }

    /// <summary>What is to be said about them in the profile's description, with a blank before it; empty for nothing.</summary>
    public static string Words(LinkSettings? known, TopBit topBit)
    {
        var parity = topBit switch
        {
            TopBit.Even => " Seven data bits with even parity",
            TopBit.Odd => " Seven data bits with odd parity",
            TopBit.Mark => " The top bit was always set; it is cleared.",
            _ => "",
        };
        var how = topBit is TopBit.Data or TopBit.Mark
            ? ""
            : Proved(known, topBit) is null ? ", received as eight bits; the top bit is cleared." : ", as the top bits show.";
        return parity + how + (known is null ? " The rate is not known from a capture: set it under link." : "");
    }

    /// <summary>
    /// The parity of seven-bit text that was received as eight bits without parity; null where none shows, or the line is not known.
    /// </summary>
    private static LineParity? Proved(LinkSettings? known, TopBit topBit) => (known, topBit) switch
    {
        ({ DataBits: 8, Parity: LineParity.None }, TopBit.Even) => LineParity.Even,
        ({ DataBits: 8, Parity: LineParity.None }, TopBit.Odd) => LineParity.Odd,
        _ => null,
    };
}
