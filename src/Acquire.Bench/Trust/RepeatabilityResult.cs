using Acquire.Bench.Sessions;

namespace Acquire.Bench.Trust;

/// <summary>A repeatability test that was read, or as much of it as was.</summary>
/// <param name="Session">The session it was read in.</param>
/// <param name="Kept">The test with what it tells; null when the session did not complete.</param>
public sealed record RepeatabilityResult(SessionResult Session, KeptTest? Kept);
