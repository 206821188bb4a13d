using Acquire.Storage.Records;

namespace Acquire.Rendering.Sessions;

/// <summary>Sessions, a line each.</summary>
internal static class SessionListReport
{
    public static void Write(
        IAnsiConsole console, IReadOnlyList<(StoredSession Session, SessionHolder? Reader)> sessions, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, sessions.Select(s => Json(s.Session, s.Reader)));
            return;
        }

        if (sessions.Count == 0)
        {
            console.Line("No sessions.");
            return;
        }

        var table = Tables.New("begun", "reads", "by", "lines", "end", "session");
        foreach (var (stored, reader) in sessions)
        {
            var session = stored.Session;
            table.Row(
                Numbers.Moment(session.Provenance.At, time),
                SessionWords.Of(stored),
                session.Provenance.By,
                FormattableString.Invariant($"{stored.Lines}"),
                SessionWords.EndOf(stored, reader),
                SessionWords.ShortId(session.Id));
        }

        console.WriteTable(table);
        if (sessions.LastOrDefault(s => s.Session.IsUnfinished && s.Reader is null) is { Session: { } newest })
        {
            console.Line($"Go on with the newest unfinished one: acquire resume {SessionWords.ShortId(newest.Session.Id)}");
        }
    }

    /// <summary>What other programs get of a session.</summary>
    public static object Json(StoredSession stored, SessionHolder? reader) => new
    {
        stored.Session.Id,
        stored.Session.Kind,
        stored.Purpose,
        Lot = stored.Session.LotCode,
        Plaque = stored.Session.PlaqueName,
        stored.Session.ReadsPerPatch,
        BegunAt = stored.Session.Provenance.At,
        stored.Session.Provenance.By,
        stored.Session.Provenance.Instrument?.Port,
        stored.Session.Provenance.Instrument?.Profile,
        stored.Lines,
        stored.End?.Outcome,
        EndedAt = stored.End?.At,
        stored.End?.Reason,
        Unfinished = stored.IsUnfinished && reader is null,
        ReadByProcess = reader?.ProcessId,
    };
}
