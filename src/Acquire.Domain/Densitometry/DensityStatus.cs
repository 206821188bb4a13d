namespace Acquire.Domain.Densitometry;

/// <summary>The spectral response a density was read with (ISO 5-3).</summary>
public enum DensityStatus
{
    /// <summary>Status M: colour negatives that are to be printed.</summary>
    M,

    /// <summary>Status A: colour reversal film and colour prints.</summary>
    A,

    /// <summary>Visual density, for black-and-white.</summary>
    Visual,
}
