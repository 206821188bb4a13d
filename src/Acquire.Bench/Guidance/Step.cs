namespace Acquire.Bench.Guidance;

/// <summary>A step at the bench that can be taken back.</summary>
internal abstract record Step
{
    private Step()
    {
    }

    /// <summary>A read was taken.</summary>
    public sealed record Read(int PatchIndex, int ReadIndex) : Step;

    /// <summary>A patch was left out.</summary>
    public sealed record LeftOut(int PatchIndex) : Step;

    /// <summary>
    /// A remedy was carried out. Reads that came later stay when it is taken back, and so do the reasons that reads got later.
    /// </summary>
    /// <param name="Before">The patches before it.</param>
    /// <param name="After">The patches after it.</param>
    /// <param name="From">For each patch, the index of the patch whose reads it took.</param>
    public sealed record Remedied(ImmutableArray<PatchReads> Before, ImmutableArray<PatchReads> After, ImmutableArray<int> From) : Step
    {
        /// <summary>The patches without the remedy.</summary>
        public ImmutableArray<PatchReads> TakeBack(ImmutableArray<PatchReads> now) =>
        [
            .. Before.Select((before, patch) =>
            {
                var to = From.IndexOf(patch);
                return before with { Reads = [.. before.Reads.Select((r, i) => Restored(r, After[to].Reads[i], now[to].Reads[i])), .. now[patch].Reads.Skip(After[patch].Reads.Length)] };
            }),
        ];

        private static PatchRead Restored(PatchRead before, PatchRead after, PatchRead now) =>
            now.Exclusion == after.Exclusion ? before : before with { Exclusion = now.Exclusion };
    }

    /// <summary>The step when the reads of each patch stand in another one.</summary>
    public Step Moved(Func<int, int> to) => this switch
    {
        Read read => read with { PatchIndex = to(read.PatchIndex) },
        LeftOut leftOut => leftOut with { PatchIndex = to(leftOut.PatchIndex) },
        _ => this,
    };
}
