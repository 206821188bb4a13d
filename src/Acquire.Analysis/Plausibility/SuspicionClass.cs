namespace Acquire.Analysis.Plausibility;

/// <summary>How a mistake shows.</summary>
public enum SuspicionClass
{
    /// <summary>At once, in one reading or one patch.</summary>
    Gross,

    /// <summary>Only in the pattern over all patches, where a process fault may look alike.</summary>
    Subtle,
}
