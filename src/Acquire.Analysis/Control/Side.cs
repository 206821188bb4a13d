namespace Acquire.Analysis.Control;

/// <summary>On which side of its centre something lies, or which way it goes.</summary>
public enum Side
{
    /// <summary>Below, or falling.</summary>
    Low = -1,

    /// <summary>Neither or both.</summary>
    Neither = 0,

    /// <summary>Above, or rising.</summary>
    High = 1,
}
