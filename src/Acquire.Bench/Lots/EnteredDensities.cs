namespace Acquire.Bench.Lots;

/// <summary>The densities of one patch as a person typed them.</summary>
/// <param name="Patch">Key or name of the patch.</param>
/// <param name="Densities">The densities.</param>
public sealed record EnteredDensities(string Patch, ChannelDensities Densities)
{
    /// <summary>Makes the reads of a strip; a patch entered several times has several reads.</summary>
    /// <exception cref="Domain.ImpossibleValueException">A patch is not in the layout.</exception>
    /// <exception cref="BenchException">A patch is missing, or a channel that is needed.</exception>
    public static ImmutableArray<PatchReads> ToPatches(
        ImmutableArray<EnteredDensities> entered, StripLayout layout, ImmutableArray<Channel> needed, DateTimeOffset at)
    {
        var byPatch = entered.ToLookup(e => layout.Get(e.Patch).Key, e => e.Densities);
        var missing = layout.Patches.Where(p => !byPatch.Contains(p.Key)).Select(p => p.Key).ToList();
        if (missing.Count > 0)
        {
            throw new BenchException($"A reference needs every patch of the strip; missing: {string.Join(", ", missing)}.");
        }

        foreach (var patch in byPatch)
        {
            if (patch.Any(d => needed.Any(c => d[c] is null)))
            {
                throw new BenchException(
                    $"Patch {patch.Key} needs the densities of {string.Join(", ", needed.Select(c => c.Word()))}, in that order.");
            }
        }

        return [.. layout.Patches.Select(p =>
            new PatchReads(p, [.. byPatch[p.Key].Select(d => new PatchRead(Reading.Entered(d, at)))]))];
    }
}
