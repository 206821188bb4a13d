namespace Acquire.Analysis.StripWork;

/// <summary>
/// The change to a new code number: strips of the old and the new lot processed together, at least three separate times. The new aims are
/// not forced to equal the old ones, and the process is not changed to suit (US Navy <i>Photography (Advanced)</i>; US Army SS0514).
/// </summary>
/// <param name="OldLot">Code number of the old lot.</param>
/// <param name="NewLot">Code number of the new lot.</param>
/// <param name="Pairs">The pairs, in the order of reading.</param>
/// <param name="Rows">Patch by patch, channel by channel.</param>
public sealed record Crossover(string OldLot, string NewLot, ImmutableArray<(StripRecord Old, StripRecord New)> Pairs, ImmutableArray<CrossoverRow> Rows)
{
    /// <summary>The fewest pairs that an adjustment may rest on (the same manuals).</summary>
    public const int FewestPairs = 3;

    /// <summary>How far old and new deviations may differ on average and still agree, in density (common practice, no source: 0.02 to 0.03).</summary>
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
        (0, _, _) => $"No pairs yet. Process a strip of lot {OldLot} and one of lot {NewLot} together, at least three separate times, and tell the pair with --pair.",
        (var n, false, _) => $"{n} of {FewestPairs} pairs at least: too few to judge the crossover. What there is so far is shown; it decides nothing.",
        (_, _, true) => $"Old and new agree within {Agreement} on average in every patch and colour: the aims of lot {NewLot} can stand as they are.",
        _ => $"Old and new differ by more than {Agreement} on average in {string.Join(", ", Rows.Where(r => !r.Agrees).Select(r => r.Name))}. "
            + "The adjusted aims are a proposal. Check reference reading, correction factors and expiry of both lots before you accept it: "
            + "a crossover adapts the numbers, not the process.",
    };
}
