namespace Acquire.Domain.Sessions;

/// <summary>What a bench session reads.</summary>
public enum SessionKind
{
    /// <summary>A control strip.</summary>
    Strip,

    /// <summary>The reference strip of a lot.</summary>
    LotReference,

    /// <summary>The patches of a calibration plaque.</summary>
    CalibrationCheck,

    /// <summary>Some patches many times.</summary>
    Repeatability,
}

/// <summary>How a bench session ended.</summary>
public enum SessionOutcome
{
    /// <summary>All was read and a record made.</summary>
    Completed,

    /// <summary>The user cancelled; every line is kept.</summary>
    Cancelled,

    /// <summary>A fault ended it; every line is kept.</summary>
    Failed,
}

/// <summary>One guided reading as it begins, written before anything is read.</summary>
/// <param name="Id">UUID v7.</param>
/// <param name="Kind">What is read.</param>
/// <param name="LotCode">The lot of the strip that is read; null when no strip is.</param>
/// <param name="ReadsPerPatch">How many reads each patch is to have.</param>
/// <param name="Provenance">When, by whom, with what.</param>
public sealed record BenchSession(Guid Id, SessionKind Kind, string? LotCode, int ReadsPerPatch, Provenance Provenance)
{
    /// <summary>The plaque that is read; null when it is no calibration check.</summary>
    public string? PlaqueName { get; init; }
}

/// <summary>The end of a bench session.</summary>
/// <param name="Outcome">How.</param>
/// <param name="At">When.</param>
/// <param name="Reason">Why, in words for the user.</param>
public sealed record SessionEnd(SessionOutcome Outcome, DateTimeOffset At, string Reason);
