namespace Acquire.Domain.Lots;

/// <summary>The readings of the maker's reference strip from which a lot's aims are made.</summary>
public sealed record LotReference
{
    /// <summary>States a reference.</summary>
    /// <exception cref="ImpossibleValueException">No lot, no patches, a patch twice, or no read that counts.</exception>
    public LotReference(
        Guid id, string lotCode, ImmutableArray<PatchReads> patches, Provenance provenance, Revision revision, Guid? sessionId = null)
    {
        Id = id;
        LotCode = Guard.Text(lotCode, "The lot of a reference");
        Patches = Guard.NotEmpty(patches, "The patches of a reference strip");
        Guard.Unique(Patches, p => p.Patch.Key, "The patch");
        if (!Patches.Any(p => p.Accepted.Any()))
        {
            throw new ImpossibleValueException($"The reference strip of lot {LotCode} has no reading that counts.");
        }

        (Provenance, Revision, SessionId) = (provenance, revision, sessionId);
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    /// <summary>Code number of the lot.</summary>
    public string LotCode { get; }

    /// <summary>Every read of every patch.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>When, by whom and with which instrument it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>Which revision of the reference this is.</summary>
    public Revision Revision { get; }

    /// <summary>The bench session it was read in; null when it was entered.</summary>
    public Guid? SessionId { get; }

    /// <summary>
    /// The user's own strips whose average this is, where there is no maker's reference strip; empty otherwise. Each patch then has one
    /// read for each strip, its mean.
    /// </summary>
    public ImmutableArray<Guid> BaselineStrips { get; init; } = [];
}
