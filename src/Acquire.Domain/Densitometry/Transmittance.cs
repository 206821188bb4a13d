namespace Acquire.Domain.Densitometry;

/// <summary>Between transmittance (or reflectance) and density: D = −log10 τ (ISO 5-1, ISO 5-2).</summary>
public static class Transmittance
{
    /// <summary>The density of a transmittance in (0, 1].</summary>
    /// <exception cref="ImpossibleValueException">The transmittance is not above zero, or above one.</exception>
    public static double ToDensity(double transmittance) =>
        transmittance is > 0 and <= 1
            ? Math.Abs(Math.Log10(transmittance))
            : throw new ImpossibleValueException($"A transmittance lies above 0 and up to 1, not at {transmittance}.");

    /// <summary>The transmittance of a density.</summary>
    /// <exception cref="ImpossibleValueException">The density is not finite.</exception>
    public static double FromDensity(double density) => Math.Pow(10, -Guard.Finite(density, "A density"));
}
