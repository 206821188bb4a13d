namespace Acquire.Domain.Lots;

/// <summary>Strips of one code number: their process and layout, correction factors, expiry and storage rule.</summary>
public sealed record StripLot
{
    /// <summary>Makes a lot.</summary>
    /// <exception cref="ImpossibleValueException">
    /// No code, process or layout; a correction factor for a patch the layout lacks, or given twice.
    /// </exception>
    public StripLot(
        string code,
        string processKey,
        StripLayout layout,
        ImmutableArray<CorrectionFactor> correctionFactors = default,
        DateOnly? expires = null,
        string? storageRule = null,
        string? note = null)
    {
        Code = Guard.Text(code, "The code number of a lot");
        ProcessKey = Guard.Text(processKey, "The process of a lot");
        Layout = layout ?? throw new ImpossibleValueException($"Lot {Code} needs a strip layout.");
        CorrectionFactors = correctionFactors.IsDefault ? [] : correctionFactors;
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
        CorrectionFactors.FirstOrDefault(f => f.Channel == channel
            && string.Equals(f.PatchKey, patchKey, StringComparison.OrdinalIgnoreCase))?.Value ?? 0;

    /// <summary>Whether the lot is past its expiry on a day.</summary>
    public bool IsExpiredOn(DateOnly day) => Expires is { } last && day > last;
}
