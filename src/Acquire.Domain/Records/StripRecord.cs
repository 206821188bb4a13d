namespace Acquire.Domain.Records;

/// <summary>
/// One control strip as it was read, with everything it was judged by. This is the contract in the middle: acquisition writes it,
/// the analysis reads it, exports carry it.
/// </summary>
public sealed record StripRecord
{
    /// <summary>Makes a record.</summary>
    /// <exception cref="ImpossibleValueException">
    /// No lot; patches that are not those of the layout, in its order; a mean or aim of a patch the layout lacks, or
    /// two of one patch and channel.
    /// </exception>
    public StripRecord(
        Guid id,
        string lotCode,
        StripLayout layout,
        ProcessSheet judgedBy,
        ImmutableArray<PatchReads> patches,
        ImmutableArray<PatchMean> means,
        ImmutableArray<Aim> aims,
        Provenance provenance,
        Revision revision)
    {
        Id = id;
        LotCode = Guard.Text(lotCode, "The lot of a strip");
        Layout = layout ?? throw new ImpossibleValueException("A strip needs a layout.");
        JudgedBy = judgedBy ?? throw new ImpossibleValueException("A strip needs the process sheet it is judged by.");
        Patches = Guard.NotEmpty(patches, "The patches of a strip");
        if (!Patches.Select(p => p.Patch.Key).SequenceEqual(Layout.Patches.Select(p => p.Key), StringComparer.OrdinalIgnoreCase))
        {
            throw new ImpossibleValueException($"The patches of a strip must be those of its layout '{Layout.Name}', in its order.");
        }

        Means = means.IsDefault ? [] : means;
        Aims = aims.IsDefault ? [] : aims;
        foreach (var key in Means.Select(m => m.PatchKey).Concat(Aims.Select(a => a.PatchKey)))
        {
            _ = Layout.GetByKey(key);
        }

        Guard.Unique(Means, m => $"{m.PatchKey} {m.Channel.Word()}", "The mean");
        Guard.Unique(Aims, a => $"{a.PatchKey} {a.Channel.Word()}", "The aim");
        (Provenance, Revision) = (provenance, revision);
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    /// <summary>Code number of the strip's lot.</summary>
    public string LotCode { get; }

    /// <summary>The patches as they lie on the strip.</summary>
    public StripLayout Layout { get; }

    /// <summary>The parameters and limits in force when it was judged.</summary>
    public ProcessSheet JudgedBy { get; }

    /// <summary>Every read, in the layout's order.</summary>
    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>The means of the reads that count.</summary>
    public ImmutableArray<PatchMean> Means { get; }

    /// <summary>The aims in force when it was judged.</summary>
    public ImmutableArray<Aim> Aims { get; }

    /// <summary>When, by whom and with what it was read.</summary>
    public Provenance Provenance { get; }

    /// <summary>Which revision of the record this is.</summary>
    public Revision Revision { get; }

    /// <summary>The reference whose readings made the aims; null when there was none.</summary>
    public Guid? ReferenceId { get; init; }

    /// <summary>The bench session it was read in; null when it was not read by the bench.</summary>
    public Guid? SessionId { get; init; }

    /// <summary>The calibration check in force when it was read; null when there was none.</summary>
    public Guid? CheckId { get; init; }

    /// <summary>Why no calibration check was in force, where the user wants strips marked so; null when it is not marked.</summary>
    public string? CheckLacking { get; init; }

    /// <summary>The repeatability test in force when it was read, with what it told; null when there was none.</summary>
    public RepeatabilityInForce? Repeatability { get; init; }

    /// <summary>The process line the strip ran in, in the user's word.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle of developer it ran in, in the user's word.</summary>
    public string? Bottle { get; init; }

    /// <summary>A note of the user's.</summary>
    public string? Note { get; init; }

    /// <summary>The strip that this second strip was run to confirm; null when it confirms none.</summary>
    public Guid? Confirms { get; init; }

    /// <summary>The earlier record of the same strip, where this is the strip read again; null otherwise.</summary>
    public Guid? RereadOf { get; init; }

    /// <summary>What was done to the strip before it was read again; null when it is no second reading.</summary>
    public Treatment? Treatment { get; init; }

    /// <summary>The strip of another lot that was processed together with this one, for a crossover; null when there is none.</summary>
    public Guid? PairedWith { get; init; }

    /// <summary>How the strip was handled, in the user's words: warm-up, place on the reel, temperatures at start and end; null when not noted.</summary>
    public string? Handling { get; init; }

    /// <summary>What was asked while it was read, because a reading looked like a mistake; in the order of asking.</summary>
    public ImmutableArray<StripQuestion> Questions
    {
        get;
        init => field = value.IsDefault ? [] : value;
    }

    = [];

    /// <summary>Finds a mean; null when no read of the patch counts in that channel.</summary>
    public PatchMean? Mean(string patchKey, Channel channel) =>
        Means.FirstOrDefault(m => m.Channel == channel && string.Equals(m.PatchKey, patchKey, StringComparison.OrdinalIgnoreCase));

    /// <summary>Finds an aim; null when the lot has none.</summary>
    public Aim? Aim(string patchKey, Channel channel) =>
        Aims.FirstOrDefault(a => a.Channel == channel && string.Equals(a.PatchKey, patchKey, StringComparison.OrdinalIgnoreCase));
}
