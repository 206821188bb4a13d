using Acquire.Domain.Records;

namespace Acquire.Rendering;

/// <summary>A question that was asked while a strip was read, with its answer, in one line.</summary>
internal static class QuestionLine
{
    /// <summary>The same for other programs.</summary>
    public static object Json(IEnumerable<StripQuestion> questions) =>
        questions.Select(q => new { q.Kind, q.Question, q.Remedy, q.Evidence, q.AskedAt, q.Answer, q.AnsweredAt });

    public static string Of(StripQuestion question) => $"Asked: {question.Question} " + question.Answer switch
    {
        QuestionAnswer.Accepted => $"Yes: {question.Remedy}.",
        QuestionAnswer.Dismissed => "No.",
        _ => "Not answered; look at the reads before you trust the strip.",
    };
}
