namespace Acquire.Analysis.Plausibility;

/// <summary>A read that counts, with its place.</summary>
/// <param name="Patch">Its patch.</param>
/// <param name="Place">Where it stands.</param>
/// <param name="Reading">What the instrument gave.</param>
internal sealed record TimedRead(Patch Patch, ReadPlace Place, Reading Reading)
{
    /// <summary>All reads that count in the order of their times; reads of one time in the order of the strip.</summary>
    public static ImmutableArray<TimedRead> InOrder(ImmutableArray<PatchReads> patches) =>
    [
        .. patches
            .Where(p => p.LeftOut is null)
            .SelectMany(p => p.Reads.Select((r, i) => (p.Patch, Read: r, Index: i)))
            .Where(r => r.Read.Counts)
            .Select(r => new TimedRead(r.Patch, new ReadPlace(r.Patch.Key, r.Index), r.Read.Reading))
            .OrderBy(r => r.Reading.At),
    ];
}
