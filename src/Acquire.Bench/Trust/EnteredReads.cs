using Acquire.Storage.Import;

namespace Acquire.Bench.Trust;

/// <summary>The reads of a file as a repeatability test keeps them.</summary>
/// <param name="Patches">The patches in the order in which they appear; the reads of a placement follow each other.</param>
/// <param name="ReadsPerPlacement">How many reads each placement has.</param>
internal sealed record EnteredReads(ImmutableArray<PatchReads> Patches, int ReadsPerPlacement)
{
    /// <exception cref="BenchException">Placements have unequal numbers of reads.</exception>
    /// <exception cref="ImportException">A number is no density.</exception>
    /// <exception cref="Domain.ImpossibleValueException">A patch has blanks in its name.</exception>
    public static EnteredReads Of(IReadOnlyCollection<ImportedRead> reads, DateTimeOffset at)
    {
        var patches = reads.GroupBy(r => r.Patch, StringComparer.OrdinalIgnoreCase).Select(p => (Name: p.Key, Placements: Placements(p))).ToList();
        var perPlacement = patches.Count == 0 ? 1 : patches[0].Placements[0].Length;
        if (patches.SelectMany(p => p.Placements).FirstOrDefault(g => g.Length != perPlacement) is { IsDefault: false } odd)
        {
            throw new BenchException(
                $"{odd[0].File}, line {odd[0].Line}: placement {odd[0].Placement} of patch {odd[0].Patch} has another number of reads ({odd.Length}) than "
                + $"the first ({perPlacement}); a test that is kept has the same in each. Without --profile it is judged and not kept.");
        }

        return new EnteredReads(
            [
                .. patches.Select(p => new PatchReads(
                    new Patch(p.Name, p.Name), [.. p.Placements.SelectMany(g => g).Select(r => new PatchRead(Reading.Entered(r.ToDensities(), at)))])),
            ],
            perPlacement);
    }

    // Reads without a placement are a placement each.
    private static ImmutableArray<ImmutableArray<ImportedRead>> Placements(IEnumerable<ImportedRead> patch) =>
    [
        .. patch.Select((read, i) => (Read: read, Alone: read.Placement is null ? i : -1))
            .GroupBy(r => (r.Read.Placement?.ToUpperInvariant(), r.Alone), r => r.Read)
            .Select(g => g.ToImmutableArray()),
    ];
}
