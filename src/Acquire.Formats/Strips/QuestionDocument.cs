namespace Acquire.Formats.Strips;

/// <summary>A question that was asked while a strip was read, as JSON.</summary>
internal sealed record QuestionDocument(
    string Kind, string Question, string Remedy, double Evidence, string AskedAt, string Answer, string? AnsweredAt)
{
    public static QuestionDocument Of(StripQuestion q) => new(
        q.Kind,
        q.Question,
        q.Remedy,
        q.Evidence,
        Written.Time(q.AskedAt),
        Words<QuestionAnswer>.Of(q.Answer),
        q.AnsweredAt is { } at ? Written.Time(at) : null);

    public StripQuestion ToQuestion() => new(Kind, Question, Remedy, Evidence, Written.Time(AskedAt))
    {
        Answer = Words<QuestionAnswer>.Parse(Answer),
        AnsweredAt = AnsweredAt is { } at ? Written.Time(at) : null,
    };
}
