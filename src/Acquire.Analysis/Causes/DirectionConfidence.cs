namespace Acquire.Analysis.Causes;

/// <summary>How sure the direction of a signature is; its sizes are never surer than the direction.</summary>
public enum DirectionConfidence
{
    /// <summary>Sources differ or are thin.</summary>
    Low,

    /// <summary>Usual, with exceptions.</summary>
    Medium,

    /// <summary>Agreed.</summary>
    High,
}
