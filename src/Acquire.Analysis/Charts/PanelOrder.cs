namespace Acquire.Analysis.Charts;

/// <summary>How panels are stacked.</summary>
public static class PanelOrder
{
    /// <summary>
    /// As the trade stacks them (training courses): from the densest patch at the top down to D-min, for colour negative retained silver,
    /// HD − LD, LD, D-min. Sheets list parameters from thin to dense, so that it is their order turned round; a spread stands right under
    /// what it is the spread of.
    /// </summary>
    public static ImmutableArray<Parameter> Of(IReadOnlyList<Parameter> listed)
    {
        ArgumentNullException.ThrowIfNull(listed);
        var spreads = listed.ToLookup(p => p.OfParameterKey ?? "", StringComparer.OrdinalIgnoreCase);
        var stacked = spreads[""].Reverse().SelectMany(p => spreads[p.Key].Prepend(p)).ToList();

        // A spread whose parameter is not charted beside it goes to the bottom.
        return [.. stacked, .. listed.Except(stacked)];
    }
}
