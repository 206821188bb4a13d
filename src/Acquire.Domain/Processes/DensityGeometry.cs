namespace Acquire.Domain.Processes;

/// <summary>How the light goes through or off what is read.</summary>
public enum DensityGeometry
{
    /// <summary>Through the film (ISO 5-2).</summary>
    Transmission,

    /// <summary>Off the paper (ISO 5-4); read it over the same backing every time.</summary>
    Reflection,
}
