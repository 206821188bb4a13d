namespace Acquire.Domain.Sessions;

/// <summary>What happened at the bench, as far as a session is rebuilt from it.</summary>
public enum JournalEvent
{
    /// <summary>The link to the instrument was opened; lines begin anew.</summary>
    Opened,

    /// <summary>Bytes came.</summary>
    Received,

    /// <summary>Nothing came for so long that the pause ended a line.</summary>
    Paused,

    /// <summary>The link broke; what had come of a line stays unfinished.</summary>
    Broke,

    /// <summary>The user decided something.</summary>
    Decided,
}

/// <summary>
/// One thing that happened at the bench. The entries of a session, in their order and with their times, give the session again: its
/// lines, its reads, what is next.
/// </summary>
/// <param name="Sequence">Counts from 1 within the session; 0 while it has no place yet.</param>
/// <param name="At">When, by the clock that stamps the lines.</param>
/// <param name="Event">What.</param>
public sealed record JournalEntry(int Sequence, DateTimeOffset At, JournalEvent Event)
{
    /// <summary>The bytes exactly as received, cut anywhere; empty unless bytes came.</summary>
    public ImmutableArray<byte> Bytes { get; init; } = [];

    /// <summary>The decision as JSON; null unless the user decided.</summary>
    public string? Decision { get; init; }
}
