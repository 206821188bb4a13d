namespace Acquire.Storage.Sessions;

/// <summary>A bench session as it stands in the store.</summary>
/// <param name="Session">The session as it began.</param>
/// <param name="End">How it ended; null while it has no end: it runs still, or the program ended before it did.</param>
/// <param name="Lines">How many lines it has.</param>
public sealed record StoredSession(BenchSession Session, SessionEnd? End, int Lines)
{
    /// <summary>What it is to make; null for one begun by a version that did not keep it, which cannot be gone on with.</summary>
    public SessionPurpose? Purpose { get; init; }

    /// <summary>Whether it has no end and can be gone on with, unless a program reads it still.</summary>
    public bool IsUnfinished => End is null && Purpose is not null;
}
