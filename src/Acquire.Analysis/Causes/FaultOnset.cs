namespace Acquire.Analysis.Causes;

/// <summary>How a fault shows over time.</summary>
public enum FaultOnset
{
    /// <summary>From one run to the next.</summary>
    Jump,

    /// <summary>Slowly, with the days that a solution stands.</summary>
    DriftWithDays,

    /// <summary>Slowly, with the film that goes through.</summary>
    DriftWithUse,

    /// <summary>In every run alike, since the method is so.</summary>
    Constant,
}
