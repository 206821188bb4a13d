namespace Acquire.Rendering.Sessions;

/// <summary>The questions that were asked while a strip was read, with their answers.</summary>
internal static class QuestionLine
{
    /// <summary>The same for other programs.</summary>
    public static object Json(IEnumerable<StripQuestion> questions) =>
        questions.Select(q => new { q.Kind, q.Question, q.Remedy, q.Evidence, q.AskedAt, q.Answer, q.AnsweredAt });

    /// <summary>A line each. One that was not answered counts for nothing once a later one was.</summary>
    public static IEnumerable<string> Of(IReadOnlyList<StripQuestion> questions) => questions.Select((q, i) => $"Asked: {q.Question} " + q.Answer switch
    {
        QuestionAnswer.Accepted => $"Yes: {q.Remedy}.",
        QuestionAnswer.Dismissed => "No.",
        _ when questions.Skip(i + 1).Any(later => later.Answer != QuestionAnswer.Unanswered) => "Not answered.",
        _ => "Not answered; look at the reads before you trust the strip.",
    });
}
