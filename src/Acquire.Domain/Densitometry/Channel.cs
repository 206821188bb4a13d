namespace Acquire.Domain.Densitometry;

/// <summary>The spectral channels of a colour densitometer (ISO 5-3).</summary>
public enum Channel
{
    /// <summary>Red: the density of the cyan dye.</summary>
    Red,

    /// <summary>Green: the density of the magenta dye.</summary>
    Green,

    /// <summary>Blue: the density of the yellow dye.</summary>
    Blue,

    /// <summary>Visual: the luminous response, for black-and-white.</summary>
    Visual,
}
