namespace Acquire.Domain.Sessions;

/// <summary>What a received line was taken for.</summary>
public enum LineMeaning
{
    /// <summary>A whole reading.</summary>
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

/// <summary>A line of a bench session, in the order of arrival.</summary>
/// <param name="Sequence">Counts from 1 within the session; with the session it is the line's identity.</param>
/// <param name="Line">The line.</param>
/// <param name="Meaning">What it was taken for.</param>
public sealed record ReceivedLine(int Sequence, RawLine Line, LineMeaning Meaning);
