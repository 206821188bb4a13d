using Acquire.Domain.Sessions;

namespace Acquire.Storage.Sessions;

/// <summary>A bench session as it stands in the store.</summary>
/// <param name="Session">The session as it began.</param>
/// <param name="End">How it ended; null while it has no end: it runs still, or the program ended before it did.</param>
/// <param name="Lines">How many lines it has.</param>
public sealed record StoredSession(BenchSession Session, SessionEnd? End, int Lines);
