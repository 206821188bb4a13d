namespace Acquire.Domain.Lots;

/// <summary>
/// How the values of a reference that was entered by hand came about, so that its aims are not taken for better than they are.
/// </summary>
public sealed record ReferenceOrigin
{
    private ReferenceOrigin(int? reads, string? profile, string? instrument, double? listUncertainty) =>
        (Reads, Profile, Instrument, ListUncertainty) = (reads, profile, instrument, listUncertainty);

    /// <summary>How many re-placed reads stand behind each entered value; null for values of the maker's list.</summary>
    public int? Reads { get; }

    /// <summary>The device profile of the instrument that they were read with; null when that is not known.</summary>
    public string? Profile { get; }

    /// <summary>The instrument's name; the profile's where it has none of its own, null when it is not known.</summary>
    public string? Instrument { get; }

    /// <summary>Standard uncertainty of a value of the maker's list, in density; null for values that were read.</summary>
    public double? ListUncertainty { get; }

    /// <summary>Means of so many re-placed reads of each patch.</summary>
    /// <param name="reads">1 at least.</param>
    /// <param name="profile">The device profile of the instrument; null when it is not known.</param>
    /// <param name="instrument">The instrument's name; null for the profile's.</param>
    /// <exception cref="ImpossibleValueException">Fewer than one read, or a profile without a name.</exception>
    public static ReferenceOrigin Read(int reads, string? profile = null, string? instrument = null) => new(
        reads >= 1 ? reads : throw new ImpossibleValueException($"A reference value is the mean of one read at least, not of {reads}."),
        profile is null ? null : Guard.Text(profile, "The instrument of a reference"),
        instrument ?? profile,
        null);

    /// <summary>Values of the maker's list: nobody here read them.</summary>
    /// <param name="standardUncertainty">Of each value, in density; half of what the list gives as ± at 95 %.</param>
    /// <exception cref="ImpossibleValueException">The uncertainty is below zero or not below 1.</exception>
    public static ReferenceOrigin FromList(double standardUncertainty) => new(null, null, null, standardUncertainty is >= 0 and < 1
        ? standardUncertainty
        : throw new ImpossibleValueException(
            $"The uncertainty of a list of reference values is a density between 0 and 1, such as 0.01; not {standardUncertainty}."));
}
