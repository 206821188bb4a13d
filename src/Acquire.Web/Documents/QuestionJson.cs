namespace Acquire.Web.Documents;

/// <summary>The questions that were asked while a strip was read, with their answers.</summary>
internal static class QuestionJson
{
    public static IEnumerable<QuestionDocument> Of(IEnumerable<StripQuestion> questions) => questions.Select(q => new QuestionDocument
    {
        Kind = q.Kind,
        Question = q.Question,
        Remedy = q.Remedy,
        Evidence = q.Evidence,
        AskedAt = q.AskedAt,
        Answer = q.Answer,
        AnsweredAt = q.AnsweredAt,
    });
}

internal sealed record QuestionDocument
{
    public required string Kind { get; init; }
    public required string Question { get; init; }
    public required string Remedy { get; init; }
    public required double Evidence { get; init; }
    public required DateTimeOffset AskedAt { get; init; }
    public required QuestionAnswer Answer { get; init; }
    public required DateTimeOffset? AnsweredAt { get; init; }
}
