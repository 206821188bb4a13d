using Acquire.Bench.Sessions;

namespace Acquire.Rendering.Sessions;

/// <summary>How a bench session ended, said on standard error.</summary>
internal static class SessionReport
{
    /// <summary>A record says itself what was read; only lines that nothing could be made of are told beside it.</summary>
    public static void Completed(Surroundings surroundings, SessionResult session)
    {
        if (session.Outcome.UnmatchedLines is > 0 and var count)
        {
            surroundings.Error.Line($"{Numbers.Count(count, "line")} fitted nothing in the profile; kept in session {session.Session.Id}.");
        }
    }

    /// <summary>Says why there is no record and where the lines are, and gives the exit code.</summary>
    public static int Incomplete(Surroundings surroundings, SessionResult session)
    {
        var (begun, outcome, rescue) = session;
        var kept = $"{Numbers.Count(outcome.Lines.Length, "line")}, {Numbers.Count(outcome.Strip.ReadsTaken, "read")}";
        surroundings.Error.Line(outcome.Outcome == SessionOutcome.Cancelled
            ? $"{(session.GoesOn ? "Stopped" : "Cancelled")}: no strip was recorded. Kept in session {begun.Id}: {kept}."
            : $"Not completed: {outcome.Reason}");
        Completed(surroundings, session);
        if (rescue is { Path: { } path })
        {
            surroundings.Error.Line($"What was read ({kept}) was saved to {path}; keep that file.");
        }
        else if (rescue is not null)
        {
            surroundings.Error.Line("No folder would take a file either. What was read follows; copy it:");
            surroundings.Error.Line(rescue.Text);
        }
        else if (outcome.Outcome == SessionOutcome.Failed)
        {
            surroundings.Error.Line($"Kept in session {begun.Id}: {kept}.");
        }

        if (session.GoesOn)
        {
            surroundings.Error.Line($"Go on at the same patch and read: acquire resume {SessionWords.ShortId(begun.Id)}");
        }

        return outcome.Fault is { } fault && Faults.CodeOf(fault) is { } code ? code : ExitCode.BadInput;
    }
}

/// <summary>The questions that were asked while a strip was read, with their answers.</summary>
internal static class QuestionLine
{
    /// <summary>A line each. One that was not answered counts for nothing once a later one was.</summary>
    public static IEnumerable<string> Of(
        IReadOnlyList<StripQuestion> questions) => questions.Select((q, i) => $"Asked: {q.Question} " + q.Answer switch
    {
        QuestionAnswer.Accepted => $"Yes: {q.Remedy}.",
        QuestionAnswer.Dismissed => "No.",
        _ when questions.Skip(i + 1).Any(later => later.Answer != QuestionAnswer.Unanswered) => "Not answered.",
        _ => "Not answered; look at the reads before you trust the strip.",
    });
}
