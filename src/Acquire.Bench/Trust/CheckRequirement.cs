namespace Acquire.Bench.Trust;

/// <summary>What happens to strips that are read without a calibration check in force.</summary>
public enum CheckRequirement
{
    /// <summary>The user is told.</summary>
    Warn,

    /// <summary>The user is told, and the record says why no check was in force.</summary>
    Mark,

    /// <summary>They are not read.</summary>
    Block,
}
