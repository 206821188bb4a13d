using Acquire.Bench.Books;
using Acquire.Analysis.Judgement;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Strips;

/// <summary>A strip that is to be read.</summary>
public sealed record StripRequest
{
    /// <summary>What the user says of it.</summary>
    public StripTags Tags { get; init; } = StripTags.None;

    /// <summary>The calibration check in force; null when there is none.</summary>
    public Guid? CheckId { get; init; }

    /// <summary>Why no check is in force, where the strip is to be marked so; null otherwise.</summary>
    public string? CheckLacking { get; init; }

    /// <summary>When the strip ran in the developer, if the user said so; null for about now.</summary>
    public DateTimeOffset? RanAt { get; init; }

    /// <summary>Whether the lot has no reference yet and the strip is to become part of one.</summary>
    public bool ForBaseline { get; init; }
}

/// <summary>A control strip that was read, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Record">The record; null when the session did not complete.</param>
/// <param name="Judgement">The judgement of the record; null without one.</param>
public sealed record StripResult(SessionResult Session, StripRecord? Record, StripJudgement? Judgement)
{
    /// <summary>What it says about the strip it confirms, or about its own earlier reading; null without a record.</summary>
    public StripTies? Ties { get; init; }

    /// <summary>What the books say about it; null when they know nothing of it.</summary>
    public StripContext? Context { get; init; }

    /// <summary>What looks wrong about what the books gained by it.</summary>
    public ImmutableArray<string> Warnings { get; init; } = [];
}

/// <summary>A reference strip that was read, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Reference">The reference; null when the session did not complete.</param>
/// <param name="Aims">The aims that follow from it.</param>
public sealed record ReferenceResult(SessionResult Session, LotReference? Reference, ImmutableArray<Aim> Aims)
{
    /// <summary>The repeatability test that the uncertainties of the aims rest on too; null without one.</summary>
    public RepeatabilityInForce? Repeatability { get; init; }
}
