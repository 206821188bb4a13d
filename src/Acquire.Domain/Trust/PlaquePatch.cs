namespace Acquire.Domain.Trust;

/// <summary>One patch of a plaque with what its certificate says.</summary>
public sealed record PlaquePatch
{
    /// <summary>States a certified patch.</summary>
    /// <param name="patch">The patch.</param>
    /// <param name="certified">Its certified densities; it is checked in these channels.</param>
    /// <param name="uncertainty">Expanded uncertainty of each of them as certificates state it, coverage factor 2, in density.</param>
    /// <exception cref="ImpossibleValueException">The uncertainty is below zero or not below 1.</exception>
    public PlaquePatch(Patch patch, ChannelDensities certified, double uncertainty)
    {
        (Patch, Certified) = (patch, certified);
        Uncertainty = uncertainty is >= 0 and < 1
            ? uncertainty
            : throw new ImpossibleValueException($"The uncertainty of patch {patch.Key} is a density between 0 and 1, such as 0.01; not {uncertainty}.");
    }

    /// <summary>The patch.</summary>
    public Patch Patch { get; }

    /// <summary>Its certified densities.</summary>
    public ChannelDensities Certified { get; }

    /// <summary>Expanded uncertainty (coverage factor 2), in density.</summary>
    public double Uncertainty { get; }

    /// <summary>Standard uncertainty, in density: half the expanded one.</summary>
    public double StandardUncertainty => Uncertainty / 2;
}
