using Acquire.Domain.Records;

namespace Acquire.Rendering;

/// <summary>A question that was asked while a strip was read, with its answer, in one line.</summary>
internal static class QuestionLine
{
    public static string Of(StripQuestion question) => $"Asked: {question.Question} " + question.Answer switch
    {
        QuestionAnswer.Accepted => $"Yes: {question.Remedy}.",
        QuestionAnswer.Dismissed => "No.",
        _ => "Not answered; look at the reads before you trust the strip.",
    };
}
