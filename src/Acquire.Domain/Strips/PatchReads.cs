namespace Acquire.Domain.Strips;

/// <summary>All reads of one patch in order, excluded ones too.</summary>
/// <param name="Reads">Every read, in order.</param>
/// <param name="LeftOut">Why the whole patch does not count; null when it counts.</param>
public sealed record PatchReads(Patch Patch, ImmutableArray<PatchRead> Reads, Exclusion? LeftOut = null)
{
    /// <summary>Every read, in order.</summary>
    public ImmutableArray<PatchRead> Reads { get; init; } = Reads.IsDefault ? [] : Reads;

    public static PatchReads None(Patch patch) => new(patch, []);

    /// <summary>The patches of something that rests on its reads: each once, and one at least with a read that counts.</summary>
    /// <param name="of">What they are the patches of, such as "a reference strip".</param>
    /// <param name="subject">What it is called when it has no reading that counts; the beginning of a sentence.</param>
    internal static ImmutableArray<PatchReads> Counted(ImmutableArray<PatchReads> patches, string of, string subject)
    {
        Guard.Unique(Guard.NotEmpty(patches, $"The patches of {of}"), p => p.Patch.Key, "The patch");
        // Reads that are left out stay in the record, so it may be full of reads and tell nothing.
        return patches.Any(p => p.Accepted.Any()) ? patches : throw new ImpossibleValueException($"{subject} has no reading that counts.");
    }

    public IEnumerable<Reading> Accepted => LeftOut is null ? Reads.Where(r => r.Counts).Select(r => r.Reading) : [];

    public IEnumerable<Density> Densities(Channel channel) =>
        Accepted.Select(r => r.Densities[channel]).Where(d => d is not null).Select(d => d!.Value);
}

/// <summary>One read of a patch, with the reason when it does not count.</summary>
/// <param name="Reading">What the instrument gave.</param>
/// <param name="Exclusion">Why it does not count; null when it counts.</param>
public sealed record PatchRead(Reading Reading, Exclusion? Exclusion = null)
{
    public bool Counts => Exclusion is null;

    /// <summary>What was done to the read after it was taken, such as exchanging its channels; null when nothing was.</summary>
    public string? Note { get; init; }
}

/// <summary>Why a read or a whole patch does not count. It stays in the record.</summary>
public sealed record Exclusion
{
    /// <exception cref="ImpossibleValueException">The reason is empty.</exception>
    public Exclusion(string reason, DateTimeOffset at)
    {
        Reason = Guard.Text(reason, "The reason for leaving something out");
        At = at;
    }

    /// <summary>The reason in the user's words.</summary>
    public string Reason { get; }

    /// <summary>When it was left out.</summary>
    public DateTimeOffset At { get; }
}
