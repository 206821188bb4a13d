using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;
using Acquire.Storage.Records;

namespace Acquire.Rendering.Sessions;

/// <summary>Sessions, a line each.</summary>
internal static class SessionListReport
{
    public static void Write(
        IAnsiConsole console, IReadOnlyList<(StoredSession Session, SessionHolder? Reader)> sessions, TimeProvider time, bool json)
    {
        console.WriteList(
            sessions, json, s => Json(s.Session, s.Reader), "No sessions.",
            ["begun", "reads", "by", "lines", "end", "session"],
            s =>
            [
                Numbers.Moment(s.Session.Session.Provenance.At, time),
                SessionWords.Of(s.Session),
                s.Session.Session.Provenance.By,
                FormattableString.Invariant($"{s.Session.Lines}"),
                SessionWords.EndOf(s.Session, s.Reader),
                SessionWords.ShortId(s.Session.Session.Id),
            ]);
        if (!json && sessions.LastOrDefault(s => s.Session.IsUnfinished && s.Reader is null) is { Session: { } newest })
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
        Instrument = stored.Session.Provenance.Instrument?.Name,
        stored.Lines,
        stored.End?.Outcome,
        EndedAt = stored.End?.At,
        stored.End?.Reason,
        Unfinished = stored.IsUnfinished && reader is null,
        ReadByProcess = reader?.ProcessId,
    };
}

/// <param name="Reader">The program that reads it now; null when none does.</param>
/// <param name="Strip">Its patches; null for one begun by a version that kept too little to rebuild them.</param>
internal sealed record ShownSession(StoredSession Stored, SessionHolder? Reader, GuidedStrip? Strip, IReadOnlyList<ReceivedLine> Lines)
{
    /// <summary>What was asked while it was read.</summary>
    public ImmutableArray<StripQuestion> Questions { get; init; } = [];
}

/// <summary>One session with its patches and lines.</summary>
internal static class SessionShowReport
{
    public static void Write(IAnsiConsole console, ShownSession shown, TimeProvider time, bool json)
    {
        if (json)
        {
            JsonOutput.Write(console, Json(shown));
            return;
        }

        var (stored, reader, strip, lines) = shown;
        var session = stored.Session;
        console.Line($"Session {session.Id}: {SessionWords.Of(stored)}");
        console.Line($"begun {Numbers.Moment(session.Provenance.At, time)} by {session.Provenance.By}");
        console.Line(stored.End is { } end
            ? $"{SessionWords.EndOf(stored, reader)} {Numbers.Moment(end.At, time)}: {end.Reason}"
            : reader is null ? SessionWords.EndOf(stored, reader) : $"being read by {reader}");
        if (strip is not null)
        {
            WritePatches(console, strip);
        }

        foreach (var question in QuestionLine.Of(shown.Questions))
        {
            console.Line(question);
        }

        WriteLines(console, lines, time);
    }

    private static void WritePatches(IAnsiConsole console, GuidedStrip strip)
    {
        var table = Tables.New("patch", "read", "densities", "note");
        foreach (var patch in strip.Patches)
        {
            foreach (var (index, read) in patch.Reads.Index())
            {
                table.Row(
                    patch.Patch.Name,
                    FormattableString.Invariant($"{index + 1}"),
                    read.Reading.Densities.ToString(),
                    string.Join("; ", new[] { read.Exclusion is { } exclusion ? $"does not count: {exclusion.Reason}" : null, read.Note }
                        .OfType<string>()));
            }

            if (patch.LeftOut is { } left)
            {
                table.Row(patch.Patch.Name, "", "", $"left out: {left.Reason}");
            }
        }

        console.WriteTable(table);
        if (strip.Next is { } next)
        {
            console.Line($"next: {next.Patch.Name}, read {next.Read} of {next.Of}");
        }
    }

    private static void WriteLines(IAnsiConsole console, IReadOnlyList<ReceivedLine> lines, TimeProvider time)
    {
        var table = Tables.New("line", "received", "taken for", "as received");
        foreach (var (sequence, line, meaning) in lines)
        {
            table.Row(FormattableString.Invariant($"{sequence}"), Numbers.Moment(line.ReceivedAt, time), meaning.Word(), line.Text);
        }

        console.WriteTable(table);
    }

    private static object Json(ShownSession shown) => new
    {
        Session = SessionListReport.Json(shown.Stored, shown.Reader),
        Next = shown.Strip?.Next is { } next ? new { Patch = next.Patch.Key, next.Read, next.Of } : null,
        Patches = shown.Strip?.Patches.Select(p => new
        {
            p.Patch.Key,
            p.Patch.Name,
            LeftOut = p.LeftOut?.Reason,
            Reads = p.Reads.Select(r => new
            {
                r.Reading.At,
                Red = r.Reading.Densities.Red?.Value,
                Green = r.Reading.Densities.Green?.Value,
                Blue = r.Reading.Densities.Blue?.Value,
                Visual = r.Reading.Densities.Visual?.Value,
                Excluded = r.Exclusion?.Reason,
                r.Note,
                Lines = r.Reading.Lines.Select(l => l.Text),
            }),
        }),
        Questions = QuestionJson.Of(shown.Questions),
        Lines = shown.Lines.Select(l => new { l.Sequence, l.Line.ReceivedAt, l.Meaning, l.Line.Text }),
    };
}
