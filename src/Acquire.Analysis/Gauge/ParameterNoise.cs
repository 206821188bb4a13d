namespace Acquire.Analysis.Gauge;

/// <summary>What the scatter of the instrument makes of one parameter, from one read of each patch.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="S">Standard deviation of the parameter.</param>
/// <param name="Averaging">The variance that more reads bring down.</param>
/// <param name="Rounding">The variance that no number of reads brings down.</param>
internal sealed record ParameterNoise(Channel? Channel, double S, double Averaging, double Rounding)
{
    public static IEnumerable<ParameterNoise> Of(
        Parameter parameter, ProcessSheet sheet, IReadOnlyDictionary<Channel, Scatter> scatters) => parameter switch
    {
        PatchParameter patch => patch.Channels.Where(scatters.ContainsKey).Select(c => Of(c, scatters[c], 1)),
        DifferenceParameter difference => difference.Channels.Where(scatters.ContainsKey).Select(c => Of(c, scatters[c], 2)),
        // Of a curve the noise depends on its slope, and a spread of it too; a few patches read again and again do not tell that.
        SpreadParameter spread when sheet.Get(spread.OfKey) is not CurveParameter && Channels.Colours.All(scatters.ContainsKey) =>
            [OfSpread([.. Channels.Colours.Select(c => scatters[c])], sheet.Get(spread.OfKey) is DifferenceParameter ? 2 : 1)],
        _ => [],
    };

    private static ParameterNoise Of(Channel channel, Scatter scatter, int patches) =>
        new(channel, Math.Sqrt(patches) * scatter.Stated, patches * scatter.S * scatter.S, patches * scatter.Rounding);

    // A spread is the difference of two channels; which two is not known beforehand, so the two that scatter most are taken.
    private static ParameterNoise OfSpread(IEnumerable<Scatter> colours, int patches)
    {
        Scatter[] ends = [.. colours.OrderByDescending(c => c.Stated).Take(2)];
        return new ParameterNoise(
            null,
            Math.Sqrt(patches * ends.Sum(e => e.Stated * e.Stated)),
            patches * ends.Sum(e => e.S * e.S),
            patches * ends.Sum(e => e.Rounding));
    }
}
