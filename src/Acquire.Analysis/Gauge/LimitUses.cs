namespace Acquire.Analysis.Gauge;

/// <summary>Holds the scatter of an instrument against the limits of a process.</summary>
/// <remarks>
/// Share: 6 s against the width of the limit, the usual measure of a gauge (common practice, no source). Reads: the least n with
/// 2 · √(s²/n + rounding) at most <see cref="LimitUse.LargestPart"/> of the distance from the aim to the limit; the factor 2 stands for
/// 95 % (GUM, JCGM 100:2008, 6.3.3).
/// </remarks>
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
