namespace Acquire.Analysis.StripWork;

/// <summary>
/// The change to a new code number: strips of the old and the new lot processed together, at least three separate times. The new aims are
/// not forced to equal the old ones, and the process is not changed to suit (US Navy <i>Photography (Advanced)</i>; US Army SS0514).
/// </summary>
/// <param name="OldLot">Code number of the old lot.</param>
/// <param name="NewLot">Code number of the new lot.</param>
/// <param name="Pairs">The pairs, in the order of reading.</param>
/// <param name="Rows">Patch by patch, channel by channel.</param>
public sealed record Crossover(
    string OldLot, string NewLot, ImmutableArray<(StripRecord Old, StripRecord New)> Pairs, ImmutableArray<CrossoverRow> Rows)
{
    /// <summary>The fewest pairs that an adjustment may rest on (the same manuals).</summary>
    public const int FewestPairs = 3;

    /// <summary>
    /// How far old and new deviations may differ on average and still agree, in density (common practice, no source: 0.02 to 0.03).
    /// </summary>
    public const double Agreement = 0.03;

    /// <summary>Whether every patch and channel has pairs enough.</summary>
    public bool IsEnough => !Rows.IsEmpty && Rows.All(r => r.Differences.Length >= FewestPairs);

    /// <summary>Whether old and new agree in every patch and channel, so that the new lot's own aims can stand.</summary>
    public bool Agrees => Rows.All(r => r.Agrees);

    /// <summary>
    /// Compares the deviations. The old strip's is from the aims that it was judged by; the new strip's is from the new lot's own aims,
    /// without any adjustment.
    /// </summary>
    /// <param name="oldLot">Code number of the old lot.</param>
    /// <param name="newLot">Code number of the new lot.</param>
    /// <param name="pairs">A strip of each lot, processed together.</param>
    /// <param name="newAims">Aims of the new lot, of which only reference and correction factor count.</param>
    public static Crossover Of(
        string oldLot, string newLot, IEnumerable<(StripRecord Old, StripRecord New)> pairs, ImmutableArray<Aim> newAims)
    {
        ImmutableArray<(StripRecord Old, StripRecord New)> sorted = [.. pairs.OrderBy(p => p.New.Provenance.At)];
        return new Crossover(
            oldLot, newLot, sorted, [.. newAims.Select(a => CrossoverRow.Of(a, sorted)).Where(r => !r.Differences.IsEmpty)]);
    }

    /// <summary>
    /// The aims as the pairs would have them: new aim = average reading of the new strips − average deviation of the old ones. They are a
    /// proposal; nothing is changed by it.
    /// </summary>
    public ImmutableArray<AdjustedAim> Proposal =>
        [.. Rows.Select(r => new AdjustedAim(r.Aim.PatchKey, r.Aim.Channel, r.Average, r.AdjustedUncertainty))];

    /// <summary>What the pairs say, for the user.</summary>
    public string Words() => (Pairs.Length, IsEnough, Agrees) switch
    {
        (0, _, _) =>
            $"No pairs yet. Process a strip of lot {OldLot} and one of lot {NewLot} together, at least three separate times, and tell "
            + "the pair with --pair.",
        (var n, false, _) =>
            $"{n} of {FewestPairs} pairs at least: too few to judge the crossover. What there is so far is shown; it decides nothing.",
        (_, _, true) =>
            $"Old and new agree within {Agreement} on average in every patch and colour: the aims of lot {NewLot} can stand as they are.",
        _ =>
            $"Old and new differ by more than {Agreement} on average in "
            + $"{string.Join(", ", Rows.Where(r => !r.Agrees).Select(r => r.Name))}. "
            + "The adjusted aims are a proposal. Check reference reading, correction factors and expiry of both lots before you accept it: "
            + "a crossover adapts the numbers, not the process.",
    };
}

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
            strip.Mean(key, channel) is { } mean
                ? new Density(decimal.Round((decimal)mean.Mean, Decimals) + new decimal(0, 0, 0, false, Decimals))
                : null;

        var (red, green, blue, visual) = (Mean(Channel.Red), Mean(Channel.Green), Mean(Channel.Blue), Mean(Channel.Visual));
        return red is null && green is null && blue is null && visual is null
            ? null
            : new PatchRead(Reading.Entered(new ChannelDensities(red, green, blue, visual), strip.Provenance.At));
    }
}
