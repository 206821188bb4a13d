namespace Acquire.Storage.Export;

/// <summary>A question that was asked while a strip was read, as JSON.</summary>
internal sealed record QuestionDocument(
    string Kind, string Question, string Remedy, double Evidence, string AskedAt, string Answer, string? AnsweredAt)
{
    public static QuestionDocument Of(StripQuestion q) => new(
        q.Kind,
        q.Question,
        q.Remedy,
        q.Evidence,
        Sql.Time(q.AskedAt),
        Words<QuestionAnswer>.Of(q.Answer),
        q.AnsweredAt is { } at ? Sql.Time(at) : null);

    public StripQuestion ToQuestion() => new(Kind, Question, Remedy, Evidence, Sql.Time(AskedAt))
    {
        Answer = Words<QuestionAnswer>.Parse(Answer),
        AnsweredAt = AnsweredAt is { } at ? Sql.Time(at) : null,
    };
}
