namespace Acquire.Analysis.Gauge;

/// <summary>One read of one patch, taken to learn about the instrument.</summary>
/// <param name="Patch">Key of the patch.</param>
/// <param name="Number">Number of the read, as the user counts them.</param>
/// <param name="Values">
/// Value in each channel, with the decimals as shown. Any number is taken: the statistics are the same for readings of another scale.
/// </param>
/// <param name="Placement">
/// Which placement of the film on the instrument the read belongs to; reads of one placement were made without moving it. Null when
/// every read was placed anew.
/// </param>
public sealed record GaugeRead(string Patch, int Number, ImmutableDictionary<Channel, decimal> Values, int? Placement = null)
{
    /// <summary>A read of densities.</summary>
    public static GaugeRead Of(string patch, int number, ChannelDensities densities, int? placement = null)
    {
        ArgumentNullException.ThrowIfNull(densities);
        return new GaugeRead(patch, number, densities.Present.ToImmutableDictionary(c => c, c => densities[c]!.Value.Value), placement);
    }
}
