namespace Acquire.Domain.Lots;

/// <summary>Strips of one code number: their process and layout, correction factors, expiry and storage rule.</summary>
public sealed record StripLot
{
    /// <exception cref="ImpossibleValueException">No code, process or layout; a correction
    /// factor for a patch the layout lacks, or given twice.</exception>
    public StripLot(
        string code, string processKey, StripLayout layout, ImmutableArray<CorrectionFactor> correctionFactors = default,
        DateOnly? expires = null, string? storageRule = null, string? note = null)
    {
        Code = Guard.Text(code, "The code number of a lot");
        ProcessKey = Guard.Text(processKey, "The process of a lot");
        Layout = layout ?? throw new ImpossibleValueException($"Lot {Code} needs a strip layout.");
        CorrectionFactors = correctionFactors.IsDefault ? [] : correctionFactors;
        // By key alone: aims look factors up by key, and one under a name would silently count as 0.
        foreach (var factor in CorrectionFactors)
        {
            _ = Layout.GetByKey(factor.PatchKey);
        }

        Guard.Unique(CorrectionFactors, f => $"{f.PatchKey} {f.Channel.Word()}", "The correction factor");
        (Expires, StorageRule, Note) = (expires, storageRule, note);
    }

    /// <summary>The code number printed on the box.</summary>
    public string Code { get; }

    /// <summary>Key of the process sheet, such as <c>c41</c>.</summary>
    public string ProcessKey { get; }

    /// <summary>The patches in reading order.</summary>
    public StripLayout Layout { get; }

    /// <summary>The maker's correction factors; a patch and channel without one counts as 0.</summary>
    public ImmutableArray<CorrectionFactor> CorrectionFactors { get; }

    /// <summary>The last day on which strips of this lot are good; null when unknown.</summary>
    public DateOnly? Expires { get; }

    /// <summary>How the sheet in the box says to store the strips.</summary>
    public string? StorageRule { get; }

    /// <summary>A note of the user's.</summary>
    public string? Note { get; }

    /// <summary>The correction factor for one patch and channel, 0 when the sheet gives none.</summary>
    public double Correction(string patchKey, Channel channel) =>
        CorrectionFactors.FirstOrDefault(f => f.Channel == channel && Keys.Same(f.PatchKey, patchKey))?.Value ?? 0;

    public bool IsExpiredOn(DateOnly day) => Expires is { } last && day > last;
}

/// <summary>The signed number that the maker's sheet gives for one patch and channel of a code number; it
/// is added to the reference reading to make the aim.</summary>
public sealed record CorrectionFactor
{
    /// <summary>The largest size accepted, in density. Factors are mostly up to ±0.04 (common practice, no source).</summary>
    public const double Largest = 0.5;

    /// <exception cref="ImpossibleValueException">The value is not finite or beyond ±0.5.</exception>
    public CorrectionFactor(string patchKey, Channel channel, double value)
    {
        PatchKey = Guard.Text(patchKey, "The patch of a correction factor");
        Channel = channel;
        Value = Math.Abs(Guard.Finite(value, "A correction factor")) <= Largest
            ? value
            : throw new ImpossibleValueException($"A correction factor of {value} cannot be: expected within ±{Largest}.");
    }

    public string PatchKey { get; }

    public Channel Channel { get; }

    /// <summary>The number to add, in density, with its sign.</summary>
    public double Value { get; }
}

/// <summary>The readings of the maker's reference strip from which a lot's aims are made.</summary>
public sealed record LotReference
{
    /// <exception cref="ImpossibleValueException">No lot, no patches, a patch twice, or no read that counts.</exception>
    public LotReference(
        Guid id, string lotCode, ImmutableArray<PatchReads> patches, Provenance provenance, Revision revision, Guid? sessionId = null)
    {
        Id = id;
        LotCode = Guard.Text(lotCode, "The lot of a reference");
        Patches = PatchReads.Counted(patches, "a reference strip", $"The reference strip of lot {LotCode}");
        (Provenance, Revision, SessionId) = (provenance, revision, sessionId);
    }

    /// <summary>UUID v7.</summary>
    public Guid Id { get; }

    public string LotCode { get; }

    public ImmutableArray<PatchReads> Patches { get; }

    /// <summary>When, by whom and with which instrument it was read.</summary>
    public Provenance Provenance { get; }

    public Revision Revision { get; }

    /// <summary>The bench session it was read in; null when it was entered.</summary>
    public Guid? SessionId { get; }

    /// <summary>The user's own strips whose average this is, where there is no maker's reference strip; empty otherwise.
    /// Each patch then has one read for each strip, its mean.</summary>
    public ImmutableArray<Guid> BaselineStrips { get; init; } = [];

    /// <summary>
    /// How values that were entered by hand came about; null when nobody said, and for a reference read at the instrument.
    /// </summary>
    public ReferenceOrigin? Origin { get; init; }

    /// <summary>Name of the instrument behind the values, read or entered; null when that is not known.</summary>
    public string? InstrumentName => Provenance.Instrument?.Name ?? Origin?.Instrument;
}
