namespace Acquire.Analysis.StripWork;

/// <summary>
/// A reference of the user's own where the maker gives none: one strip on each of five consecutive days of a process known to be right,
/// averaged (a film maker's published radiographic quality-control procedure).
/// </summary>
public static class OwnReference
{
    /// <summary>How many strips it takes.</summary>
    public const int Strips = 5;

    /// <summary>Decimals that a strip's mean is kept with: far below any display, so that rounding adds nothing.</summary>
    private const int Decimals = 4;

    /// <summary>
    /// The reads of such a reference: of each patch one for each strip, its mean. Their scatter is then that from strip to strip, which is
    /// what the average of strips is uncertain by; the single reads of one strip would make it look better than it is.
    /// </summary>
    /// <param name="strips">The strips, all of one layout.</param>
    /// <returns>The patches in the layout's order; a strip whose patch has no mean gives no read there.</returns>
    public static ImmutableArray<PatchReads> Of(IReadOnlyList<StripRecord> strips)
    {
        ArgumentNullException.ThrowIfNull(strips);
        return [.. strips[0].Layout.Patches.Select(p => new PatchReads(p, [.. strips.Select(s => Read(s, p.Key)).OfType<PatchRead>()]))];
    }

    private static PatchRead? Read(StripRecord strip, string key)
    {
        Density? Mean(Channel channel) =>
            strip.Mean(key, channel) is { } mean ? new Density(decimal.Round((decimal)mean.Mean, Decimals) + new decimal(0, 0, 0, false, Decimals)) : null;

        var (red, green, blue, visual) = (Mean(Channel.Red), Mean(Channel.Green), Mean(Channel.Blue), Mean(Channel.Visual));
        return red is null && green is null && blue is null && visual is null
            ? null
            : new PatchRead(Reading.Entered(new ChannelDensities(red, green, blue, visual), strip.Provenance.At));
    }
}
