namespace Acquire.Analysis.Gauge;

/// <summary>What a calibration check says at 95 % probability.</summary>
public enum CheckVerdict
{
    /// <summary>The true error is inside the tolerance.</summary>
    Pass,

    /// <summary>The readings cannot tell.</summary>
    Undecided,

    /// <summary>The true error is outside the tolerance.</summary>
    Fail,
}
