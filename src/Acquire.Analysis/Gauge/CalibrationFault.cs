namespace Acquire.Analysis.Gauge;

/// <summary>What is off in a calibration check.</summary>
public enum CalibrationFault
{
    /// <summary>Nothing that the readings show.</summary>
    None,

    /// <summary>All patches by the same amount.</summary>
    Zero,

    /// <summary>The more, the denser the patch.</summary>
    Slope,

    /// <summary>Both of these.</summary>
    ZeroAndSlope,

    /// <summary>One patch alone.</summary>
    OnePatch,

    /// <summary>Something, but neither a zero, nor a slope, nor one patch explains it.</summary>
    Scattered,
}
