using Acquire.Instruments.Links;

namespace Acquire.Instruments.Learning;

/// <summary>The line settings to try, the likeliest first.</summary>
internal static class LinkCandidates
{
    /// <summary>
    /// The usual rates, in bits per second, by how often instruments of this kind have them (common practice, no source).
    /// </summary>
    public static ImmutableArray<int> Rates { get; } = [9600, 1200, 2400, 4800, 19200, 300, 600, 38400, 57600, 115200];

    /// <summary>
    /// Every rate, or only the one that is known, received as eight bits without parity: seven bits with parity look so too, and their top
    /// bits
    /// then show the parity. A second stop bit is never missed.
    /// </summary>
    public static ImmutableArray<LinkSettings> First(int? baud) =>
        [.. (baud is { } known ? [known] : Rates).Select(r => new LinkSettings { Baud = r })];

    /// <summary>
    /// What cannot be received so, when no rate gave text: eight bits with parity, and seven bits without. The rates at which something
    /// came, those
    /// that looked most like text first.
    /// </summary>
    public static ImmutableArray<LinkSettings> Second(IEnumerable<(LinkSettings Settings, BurstLook Look)> tried) =>
    [
        .. tried.Where(t => t.Look.Verdict != BurstVerdict.Silent).OrderByDescending(t => t.Look.TextShare).Select(t => t.Settings)
            .Distinct()
            .SelectMany(s => (IEnumerable<LinkSettings>)
                [s with { Parity = LineParity.Even }, s with { Parity = LineParity.Odd }, s with { DataBits = 7 }]),
    ];
}
