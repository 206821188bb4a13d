namespace Acquire.Analysis.Gauge;

/// <summary>What the instrument's scatter uses up of one limit of the process.</summary>
/// <param name="Channel">The channel; null for a spread over the colours.</param>
/// <param name="IsControl">Whether it is the control limit; else the action limit.</param>
/// <param name="S">Standard deviation of the parameter from one read of each patch: s for a patch, √2 · s for a difference of two.</param>
/// <param name="Width">In density: upper minus lower side; with one side, its distance from the aim.</param>
/// <param name="Share">6 · <paramref name="S"/> over <paramref name="Width"/>.</param>
/// <param name="ReadsNeeded">Reads of each patch after which the reading part of the 95 % expanded uncertainty is
/// small enough; null when no number of reads gets there.</param>
/// <param name="Explanation">How share and reads were reckoned, in words.</param>
public sealed record LimitUse(
    Parameter Parameter, Channel? Channel, bool IsControl, Limit Limit, double S, double Width, double Share, int? ReadsNeeded,
    string Explanation)
{
    /// <summary>The part of the distance from aim to limit that the reading's 95 % expanded uncertainty may take for
    /// <see cref="ReadsNeeded"/>: one third (common practice, no source).</summary>
    public const double LargestPart = 1.0 / 3;
}

/// <summary>Holds the scatter of an instrument against the limits of a process.</summary>
/// <remarks>Share: 6 s against the width of the limit, the usual measure of a gauge (common practice, no source). Reads: the
/// least n with 2 · √(s²/n + rounding) at most <see cref="LimitUse.LargestPart"/> of the distance from the aim to the limit; the
/// factor 2 stands for 95 % (GUM, JCGM 100:2008, 6.3.3).</remarks>
internal static class LimitUses
{
    private const int MostReads = 1000;

    public static ImmutableArray<LimitUse> Of(ProcessSheet sheet, IReadOnlyDictionary<Channel, Scatter> scatters) =>
    [
        .. from parameter in sheet.Parameters
           from noise in ParameterNoise.Of(parameter, sheet, scatters)
           from side in new[] {
               (Limit: parameter.LimitsIn(noise.Channel).Action, IsControl: false),
               (Limit: parameter.LimitsIn(noise.Channel).Control, IsControl: true) }
           where side.Limit is not null && Sides(side.Limit).Any()
           select UseOf(parameter, noise, side.Limit, side.IsControl),
    ];

    private static LimitUse UseOf(Parameter parameter, ParameterNoise noise, Limit limit, bool isControl)
    {
        var (width, nearest) = (Sides(limit).Sum(), Sides(limit).Min());
        var reads = ReadsFor(noise, nearest * LimitUse.LargestPart / 2);
        return new LimitUse(
            parameter, noise.Channel, isControl, limit, noise.S, width, 6 * noise.S / width, reads, Explain(noise, limit, reads));
    }

    // A limit that ends at the aim itself has no width on that side.
    private static IEnumerable<double> Sides(Limit limit) =>
        new[] { -limit.Lower, limit.Upper }.OfType<double>().Where(distance => distance > 0);

    private static int? ReadsFor(ParameterNoise noise, double uncertainty)
    {
        // What rounding takes of it no read gives back, so it may be more than there is.
        var room = (uncertainty * uncertainty) - noise.Rounding;
        var reads = room > 0 ? Math.Max(1, Math.Ceiling((noise.Averaging / room) - 1e-9)) : double.PositiveInfinity;
        return reads <= MostReads ? (int)reads : null;
    }

    private static string Explain(ParameterNoise noise, Limit limit, int? reads)
    {
        var width = limit is { Lower: < 0, Upper: > 0 } ? "upper minus lower side" : "distance from the aim, the limit having one side";
        var enough = reads switch
        {
            null => "no sensible number of reads",
            1 => "one read of each patch",
            _ => string.Create(CultureInfo.InvariantCulture, $"{reads} reads of each patch"),
        };
        return $"6 times the standard deviation ({noise.InWords}) over the width ({width}); {enough} brings the reading's 95 % "
            + "uncertainty to a third of the nearest side.";
    }
}

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
                null, Math.Sqrt(ends.Sum(e => e.S * e.S)), ends.Sum(e => e.Averaging), ends.Sum(e => e.Rounding),
                "that of the two colours that scatter most")];
    }
}
