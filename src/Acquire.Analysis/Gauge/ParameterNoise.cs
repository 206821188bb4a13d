namespace Acquire.Analysis.Gauge;

/// <summary>What the scatter of the instrument makes of one parameter, from one read of each patch.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="S">Standard deviation of the parameter.</param>
/// <param name="Averaging">The variance that more reads bring down.</param>
/// <param name="Rounding">The variance that no number of reads brings down.</param>
/// <param name="InWords">What the standard deviation is, for the user.</param>
internal sealed record ParameterNoise(Channel? Channel, double S, double Averaging, double Rounding, string InWords)
{
    public static IEnumerable<ParameterNoise> Of(
        Parameter parameter, ProcessSheet sheet, IReadOnlyDictionary<Channel, Scatter> scatters) => parameter.Match(
        patch => patch.Channels.Where(scatters.ContainsKey).Select(c => Of(c, scatters[c], 1, "s")),
        difference =>
            difference.Channels.Where(scatters.ContainsKey).Select(c => Of(c, scatters[c], 2, "√2 · s, since two patches are read")),
        spread =>
            OfSpread([.. Of(sheet.Get(spread.OfKey), sheet, scatters).Where(n => n.Channel is { } c && Channels.Colours.Contains(c))]),
        // Of a curve the noise depends on its slope; a few patches read again and again do not tell that.
        _ => []);

    private static ParameterNoise Of(Channel channel, Scatter scatter, int patches, string inWords) =>
        new(channel, Math.Sqrt(patches) * scatter.Stated, patches * scatter.S * scatter.S, patches * scatter.Rounding, inWords);

    // A spread is the difference of two channels; which two is not known beforehand, so the two that scatter most are taken.
    private static IEnumerable<ParameterNoise> OfSpread(ImmutableArray<ParameterNoise> colours)
    {
        ParameterNoise[] ends = [.. colours.OrderByDescending(c => c.S).Take(2)];
        return colours.Length < 3
            ? []
            : [new(
                null,
                Math.Sqrt(ends.Sum(e => e.S * e.S)),
                ends.Sum(e => e.Averaging),
                ends.Sum(e => e.Rounding),
                "that of the two colours that scatter most")];
    }
}
