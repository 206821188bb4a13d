namespace Acquire.Domain.Strips;

/// <summary>All reads of one patch in order, excluded ones too.</summary>
/// <param name="Patch">The patch.</param>
/// <param name="Reads">Every read, in order.</param>
/// <param name="LeftOut">Why the whole patch does not count; null when it counts.</param>
public sealed record PatchReads(Patch Patch, ImmutableArray<PatchRead> Reads, Exclusion? LeftOut = null)
{
    /// <summary>Every read, in order.</summary>
    public ImmutableArray<PatchRead> Reads { get; init; } = Reads.IsDefault ? [] : Reads;

    /// <summary>A patch that has not been read.</summary>
    public static PatchReads None(Patch patch) => new(patch, []);

    /// <summary>The reads that count.</summary>
    public IEnumerable<Reading> Accepted => LeftOut is null ? Reads.Where(r => r.Counts).Select(r => r.Reading) : [];

    /// <summary>The densities of one channel in the reads that count.</summary>
    public IEnumerable<Density> Densities(Channel channel) =>
        Accepted.Select(r => r.Densities[channel]).Where(d => d is not null).Select(d => d!.Value);
}
