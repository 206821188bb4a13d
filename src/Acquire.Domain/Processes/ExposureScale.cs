namespace Acquire.Domain.Processes;

/// <summary>What the log exposures of a layout count from.</summary>
public enum ExposureScale
{
    /// <summary>From a point of their own: only differences mean something, as on every control strip whose exposure is not stated.</summary>
    Relative,

    /// <summary>They are log10 of an exposure in lux seconds.</summary>
    LuxSeconds,
}
