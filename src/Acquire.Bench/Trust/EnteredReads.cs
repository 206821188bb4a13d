using Acquire.Analysis.Gauge;
using Acquire.Formats.Csv;
using Plaque = Acquire.Domain.Trust.Plaque;

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
        var patches = reads.GroupBy(r => r.Patch, StringComparer.OrdinalIgnoreCase)
            .Select(p => (Name: p.Key, Placements: Placements(p)))
            .ToList();
        // A kept test says one number of reads per placement; unequal ones could not be told apart again.
        var perPlacement = patches.Count == 0 ? 1 : patches[0].Placements[0].Length;
        if (patches.SelectMany(p => p.Placements).FirstOrDefault(g => g.Length != perPlacement) is { IsDefault: false } odd)
        {
            throw new BenchException(
                $"{odd[0].Place}: placement {odd[0].Placement} of patch {odd[0].Patch} has another number of reads ({odd.Length}) than "
                + $"the first ({perPlacement}); a test that is kept has the same in each. Without --profile it is judged and not kept.");
        }

        return new EnteredReads(
            [
                .. patches.Select(p => new PatchReads(
                    new Patch(p.Name, p.Name),
                    [.. p.Placements.SelectMany(g => g).Select(r => new PatchRead(Reading.Entered(r.ToDensities(), at)))])),
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

/// <summary>Brings reads into the form in which they are studied.</summary>
public static class TestReads
{
    /// <summary>The reads of a file. Placements that are not all numbered are counted in the order in which they appear.</summary>
    /// <exception cref="GaugeException">There are no reads.</exception>
    public static RepeatabilityData Of(IReadOnlyCollection<ImportedRead> reads)
    {
        var names = reads.Select(r => r.Placement).OfType<string>().Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        var numbered = names.All(n => Number(n) is not null);
        return new RepeatabilityData(
            [.. reads.Select(r => new GaugeRead(r.Patch, r.Read, r.Values.ToImmutableDictionary(), Placement(r.Placement)))]);

        int? Placement(string? name) => name is null ? null
            : numbered ? Number(name)
            : names.FindIndex(n => string.Equals(n, name, StringComparison.OrdinalIgnoreCase)) + 1;
    }

    /// <summary>The reads of a file where several persons or instruments read; null where it was one.</summary>
    /// <exception cref="GaugeException">They are no study that can be analysed; the message says what is missing or too much.</exception>
    public static CrossedData? Crossed(IReadOnlyCollection<ImportedRead> reads) => CrossedData.Of(
        [.. reads.Select(r => new CrossedRead(r.Place.ToString(), r.Patch, r.Person, r.Instrument, r.Placement, r.Values))]);

    private static int? Number(string name) =>
        int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}

/// <summary>Brings the reads of a file to the patches of a plaque.</summary>
internal static class CheckReads
{
    /// <exception cref="BenchException">A patch of the plaque is missing, or a read is of none of them or lacks a channel.</exception>
    /// <exception cref="ImportException">A number is no density.</exception>
    public static ImmutableArray<PatchReads> Of(Plaque plaque, IReadOnlyCollection<ImportedRead> reads, DateTimeOffset at)
    {
        var expected = string.Join(", ", plaque.Layout.Patches.Select(p => p.Key));
        foreach (var read in reads)
        {
            if (plaque.Layout.Find(read.Patch) is null)
            {
                throw new BenchException($"{read.Place}: plaque {plaque.Name} has no patch '{read.Patch}'; expected {expected}.");
            }

            if (plaque.Channels.Where(c => !read.Values.ContainsKey(c)).Select(c => c.Word()).ToList() is { Count: > 0 } missing)
            {
                throw new BenchException(
                    $"{read.Place}: {string.Join(", ", missing)} is missing, in which plaque {plaque.Name} is certified.");
            }
        }

        var byPatch = reads.ToLookup(r => plaque.Layout.Get(r.Patch).Key, r => new PatchRead(Reading.Entered(r.ToDensities(), at)));
        var unread = plaque.Layout.Patches.Where(p => !byPatch.Contains(p.Key)).Select(p => p.Key).ToList();
        return unread.Count == 0
            ? [.. plaque.Layout.Patches.Select(p => new PatchReads(p, [.. byPatch[p.Key]]))]
            : throw new BenchException($"A check needs every patch of plaque {plaque.Name}; missing: {string.Join(", ", unread)}.");
    }
}
