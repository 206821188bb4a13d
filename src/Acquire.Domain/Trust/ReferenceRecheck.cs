namespace Acquire.Domain.Trust;

/// <summary>The reference strip of a lot, read again to see whether the instrument has moved. It never makes aims.</summary>
public sealed record ReferenceRecheck
{
    /// <summary>States a recheck.</summary>
    /// <exception cref="ImpossibleValueException">No lot, no patches, a patch twice, or no read that counts.</exception>
    public ReferenceRecheck(Guid id, string lotCode, ImmutableArray<PatchReads> patches, Provenance provenance, Guid? sessionId = null)
    {
        (Id, Provenance, SessionId) = (id, provenance, sessionId);
        LotCode = Guard.Text(lotCode, "The lot of a reference strip");
        Patches = Guard.NotEmpty(patches, "The patches of a reference strip");
        Guard.Unique(Patches, p => p.Patch.Key, "The patch");
        if (!Patches.Any(p => p.Accepted.Any()))
        {
            throw new ImpossibleValueException($"The reference strip of lot {LotCode} has no reading that counts.");
        }
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    /// <summary>Code number of the lot.</summary>
    public string LotCode { get; }

    /// <summary>Every read of every patch.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>When, by whom and with which instrument it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>The bench session it was read in; null when it was entered.</summary>
    public Guid? SessionId { get; }
}
