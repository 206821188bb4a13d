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

/// <summary>One thing that happened at the bench. The entries of a session, in their order and with their times, give the
/// session again: its lines, its reads, what is next.</summary>
/// <param name="Sequence">Counts from 1 within the session; 0 while it has no place yet.</param>
/// <param name="At">When, by the clock that stamps the lines.</param>
public sealed record JournalEntry(int Sequence, DateTimeOffset At, JournalEvent Event)
{
    /// <summary>The bytes exactly as received, cut anywhere; empty unless bytes came.</summary>
    public ImmutableArray<byte> Bytes { get; init; } = [];

    /// <summary>The decision as JSON; null unless the user decided.</summary>
    public string? Decision { get; init; }
}

/// <summary>What a received line was taken for.</summary>
public enum LineMeaning
{
    Reading,

    /// <summary>One channel of a reading that comes on several lines.</summary>
    Partial,

    /// <summary>The instrument says that the density is beyond its range.</summary>
    OverRange,

    /// <summary>The instrument reports an error.</summary>
    Error,

    /// <summary>A line sent while the instrument is calibrated; it never lands on a patch.</summary>
    Calibration,

    /// <summary>A header, footer or blank line that the profile says to ignore.</summary>
    Ignored,

    /// <summary>The line fits nothing in the profile: kept, shown and counted, never guessed at.</summary>
    Unmatched,
}

public static class LineMeanings
{
    /// <summary>In the one word that scripts rely on.</summary>
    public static string State(this LineMeaning meaning) =>
        meaning == LineMeaning.OverRange ? "over-range" : meaning.ToString().ToLowerInvariant();

    /// <summary>In words for people.</summary>
    public static string Word(this LineMeaning meaning) => meaning switch
    {
        LineMeaning.Partial => "one channel of a reading",
        LineMeaning.Unmatched => "fits nothing",
        _ => meaning.State(),
    };
}

/// <summary>A line of a bench session, in the order of arrival.</summary>
/// <param name="Sequence">Counts from 1 within the session; with the session it is the line's identity.</param>
/// <param name="Meaning">What it was taken for.</param>
public sealed record ReceivedLine(int Sequence, RawLine Line, LineMeaning Meaning);
