using Acquire.Analysis.Gauge;
using Acquire.Bench.Sessions;
using Acquire.Domain.Trust;

namespace Acquire.Bench.Trust;

/// <summary>A repeatability test that was read, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Test">The test; null when the session did not complete.</param>
/// <param name="Report">What it tells; null without one.</param>
/// <param name="Comparison">How it compares with the test before; null when there is none.</param>
public sealed record RepeatabilityResult(
    SessionResult Session, RepeatabilityTest? Test, RepeatabilityReport? Report, RepeatabilityComparison? Comparison);
