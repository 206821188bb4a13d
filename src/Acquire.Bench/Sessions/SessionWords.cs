using Acquire.Storage.Records;

namespace Acquire.Bench.Sessions;

/// <summary>Sessions in words.</summary>
public static class SessionWords
{
    /// <summary>The end of the id, which is enough to name the session.</summary>
    public static string ShortId(Guid id) => StripId.ShortForm(id);

    /// <summary>What a session reads, such as <c>strip of lot 4410</c>.</summary>
    public static string Of(StoredSession stored) => stored switch
    {
        { Session: { PlaqueName: { } plaque } } => $"check of plaque {plaque}",
        { Session: { Kind: SessionKind.Repeatability } } => "repeatability test",
        { Purpose: SessionPurpose.Recheck, Session: { LotCode: var lot } } => $"reference strip of lot {lot} again",
        { Session: { Kind: SessionKind.LotReference, LotCode: var lot } } => $"reference strip of lot {lot}",
        { Session: { LotCode: var lot } } => $"strip of lot {lot}",
    };

    /// <summary>How a session ended, or that it did not.</summary>
    public static string EndOf(StoredSession stored, SessionHolder? reader) => stored switch
    {
        { End: { } end } => end.Outcome.ToString().ToLowerInvariant(),
        _ when reader is not null => "being read",
        { IsUnfinished: true } => "unfinished",
        _ => "unfinished, from an older version",
    };
}
