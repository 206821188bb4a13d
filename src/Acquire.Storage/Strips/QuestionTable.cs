namespace Acquire.Storage.Strips;

/// <summary>The table <c>strip_question</c>.</summary>
internal static class QuestionTable
{
    public static void Add(Db db, StripRecord strip, long revisionId) => db.Execute(
        """
        INSERT INTO strip_question (revision_id, position, kind, question, remedy, evidence, asked_at, answer, answered_at)
        VALUES (@revisionId, @Position, @Kind, @Question, @Remedy, @Evidence, @AskedAt, @Answer, @AnsweredAt)
        """,
        strip.Questions.Select((q, i) => new
        {
            revisionId,
            Position = i + 1,
            q.Kind,
            q.Question,
            q.Remedy,
            q.Evidence,
            AskedAt = Sql.Time(q.AskedAt),
            Answer = Words<QuestionAnswer>.Of(q.Answer),
            AnsweredAt = q.AnsweredAt is { } at ? Sql.Time(at) : null,
        }));

    /// <summary>The questions of some revisions, in the order in which they were asked.</summary>
    public static ILookup<long, StripQuestion> Load(Db db, IReadOnlyCollection<long> revisions) => db.Query<QuestionRow>(
        "SELECT * FROM strip_question WHERE revision_id IN @revisions ORDER BY revision_id, position", new { revisions })
        .ToLookup(q => q.RevisionId, q => q.ToQuestion());

    private sealed record QuestionRow
    {
        public long RevisionId { get; init; }

        public string Kind { get; init; } = "";

        public string Question { get; init; } = "";

        public string Remedy { get; init; } = "";

        public double Evidence { get; init; }

        public string AskedAt { get; init; } = "";

        public string Answer { get; init; } = "";

        public string? AnsweredAt { get; init; }

        public StripQuestion ToQuestion() => new(Kind, Question, Remedy, Evidence, Sql.Time(AskedAt))
        {
            Answer = Words<QuestionAnswer>.Parse(Answer),
            AnsweredAt = AnsweredAt is { } at ? Sql.Time(at) : null,
        };
    }
}
