namespace Acquire.Domain.Trust;

/// <summary>One calibration check: a plaque read and judged.</summary>
public sealed record CalibrationCheck
{
    /// <param name="id">UUID v7.</param>
    /// <param name="patches">Every read of every patch of the plaque, in its order.</param>
    /// <param name="passed">The verdict when it was made.</param>
    /// <param name="sessionId">The bench session; null when the readings were taken elsewhere.</param>
    /// <exception cref="ImpossibleValueException">The patches are not those of the plaque, or no read counts.</exception>
    public CalibrationCheck(
        Guid id, Plaque plaque, ImmutableArray<PatchReads> patches, bool passed, Provenance provenance, Guid? sessionId = null)
    {
        (Id, Plaque, Passed, Provenance, SessionId) = (id, plaque, passed, provenance, sessionId);
        Patches = Guard.NotEmpty(patches, "The patches of a calibration check");
        // A check of some of the patches could leave out the one that fails.
        Guard.That(
            Patches.Select(p => p.Patch).SequenceEqual(plaque.Layout.Patches),
            $"The patches of a calibration check must be those of its plaque {plaque.Name}, in its order.");
        // Patches that were all left out prove nothing, whatever the verdict says.
        Guard.That(Patches.Any(p => p.Accepted.Any()), $"The check with plaque {plaque.Name} has no reading that counts.");
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    public Plaque Plaque { get; }

    /// <summary>Every read, in the plaque's order.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>Whether the instrument passed.</summary>
    public bool Passed { get; }

    /// <summary>When, by whom and with what it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>The bench session; null when the readings were taken elsewhere.</summary>
    public Guid? SessionId { get; }

    /// <summary>When the next check is due.</summary>
    public DateTimeOffset DueAt => Provenance.At.AddDays(Plaque.DueDays);

    /// <summary>Whether it is in force at a moment: passed, not of the future, and the next one not yet due.</summary>
    public bool IsInForceAt(DateTimeOffset moment) => Passed && Provenance.At <= moment && moment < DueAt;
}

/// <summary>The reference strip of a lot, read again to see whether the instrument has moved. It never makes aims.</summary>
public sealed record ReferenceRecheck
{
    /// <exception cref="ImpossibleValueException">No lot, no patches, a patch twice, or no read that counts.</exception>
    public ReferenceRecheck(Guid id, string lotCode, ImmutableArray<PatchReads> patches, Provenance provenance, Guid? sessionId = null)
    {
        (Id, Provenance, SessionId) = (id, provenance, sessionId);
        LotCode = Guard.Text(lotCode, "The lot of a reference strip");
        Patches = PatchReads.Counted(patches, "a reference strip", $"The reference strip of lot {LotCode}");
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    public string LotCode { get; }

    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>When, by whom and with which instrument it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>The bench session it was read in; null when it was entered.</summary>
    public Guid? SessionId { get; }
}
