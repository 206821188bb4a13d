using Acquire.Storage.Import;

namespace Acquire.Bench.Trust;

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
                throw new BenchException($"{read.File}, line {read.Line}: plaque {plaque.Name} has no patch '{read.Patch}'; expected {expected}.");
            }

            if (plaque.Channels.Where(c => !read.Values.ContainsKey(c)).Select(c => c.Word()).ToList() is { Count: > 0 } missing)
            {
                throw new BenchException(
                    $"{read.File}, line {read.Line}: {string.Join(", ", missing)} is missing, in which plaque {plaque.Name} is certified.");
            }
        }

        var byPatch = reads.ToLookup(r => plaque.Layout.Get(r.Patch).Key, r => new PatchRead(Reading.Entered(r.ToDensities(), at)));
        var unread = plaque.Layout.Patches.Where(p => !byPatch.Contains(p.Key)).Select(p => p.Key).ToList();
        return unread.Count == 0
            ? [.. plaque.Layout.Patches.Select(p => new PatchReads(p, [.. byPatch[p.Key]]))]
            : throw new BenchException($"A check needs every patch of plaque {plaque.Name}; missing: {string.Join(", ", unread)}.");
    }
}
