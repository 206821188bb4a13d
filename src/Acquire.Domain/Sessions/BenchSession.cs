namespace Acquire.Domain.Sessions;

public enum SessionKind
{
    Strip,

    LotReference,

    /// <summary>The patches of a calibration plaque.</summary>
    CalibrationCheck,

    /// <summary>Some patches many times.</summary>
    Repeatability,
}

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
/// <param name="LotCode">The lot of the strip that is read; null when no strip is.</param>
/// <param name="ReadsPerPatch">How many reads each patch is to have.</param>
public sealed record BenchSession(Guid Id, SessionKind Kind, string? LotCode, int ReadsPerPatch, Provenance Provenance)
{
    /// <summary>The plaque that is read; null when it is no calibration check.</summary>
    public string? PlaqueName { get; init; }
}

/// <summary>The end of a bench session.</summary>
/// <param name="Reason">Why, in words for the user.</param>
public sealed record SessionEnd(SessionOutcome Outcome, DateTimeOffset At, string Reason);

/// <summary>What a session makes when all is read.</summary>
public enum SessionPurpose
{
    /// <summary>The record of a control strip.</summary>
    Strip,

    Reference,

    /// <summary>A reference strip read again.</summary>
    Recheck,

    Check,

    Repeatability,
}

/// <summary>A device profile as it was when a session began; the file may have changed since.</summary>
/// <param name="Hash">SHA-256 of the text, lower-case hexadecimal.</param>
/// <param name="Text">The whole text, JSON.</param>
public sealed record ProfileText(string Name, string Hash, string Text);

/// <summary>All that a session needs beside its journal to be rebuilt and finished, settled before anything is read. With it a session ends
/// as it would have ended, whatever was changed meanwhile.</summary>
/// <param name="Layout">The patches in order.</param>
/// <param name="ReadsPerPlacement">How many reads follow each other without moving the patch.</param>
/// <param name="Channels">The channels that every reading must carry.</param>
/// <param name="Baud">Bits per second of the line.</param>
public sealed record SessionPlan(
    SessionPurpose Purpose, StripLayout Layout, int ReadsPerPlacement, ImmutableArray<Channel> Channels, ProfileText Profile, int Baud)
{
    /// <summary>The process sheet that a strip is judged by; null where none is.</summary>
    public ProcessSheet? Sheet { get; init; }

    /// <summary>The reference in force and its revision; null where none makes aims.</summary>
    public (Guid Id, int Revision)? Reference { get; init; }

    /// <summary>The repeatability test in force; null when there is none.</summary>
    public Guid? RepeatabilityId { get; init; }

    /// <summary>The calibration check in force; null when there is none.</summary>
    public Guid? CheckId { get; init; }

    /// <summary>Why no check is in force, where the strip is to be marked so; null otherwise.</summary>
    public string? CheckLacking { get; init; }

    /// <summary>What the user said of the strip; of one read again the earlier record, by whose aims it is judged.</summary>
    public StripTags Tags { get; init; } = StripTags.None;

    /// <summary>When the strip ran in the developer, if the user said so; null for about now.</summary>
    public DateTimeOffset? RanAt { get; init; }

    /// <summary>Why a reference is read; null where none is.</summary>
    public string? Reason { get; init; }

    /// <summary>The largest standard deviation that passes a repeatability test, density; null in other sessions.</summary>
    public double? Specification { get; init; }
}
