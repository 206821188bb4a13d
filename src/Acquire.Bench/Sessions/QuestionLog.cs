using Acquire.Analysis.Plausibility;

namespace Acquire.Bench.Sessions;

/// <summary>What has become of a question.</summary>
public enum QuestionState
{
    /// <summary>It waits for an answer.</summary>
    Open,

    /// <summary>Reading went on without an answer.</summary>
    PassedOver,

    /// <summary>The user did something else about the strip, so that it was of no more use.</summary>
    Withdrawn,

    /// <summary>The user agreed.</summary>
    Accepted,

    /// <summary>The user did not agree.</summary>
    Dismissed,
}

/// <summary>A question of a session.</summary>
/// <param name="Asked">What was asked.</param>
/// <param name="At">When.</param>
/// <param name="State">What has become of it.</param>
/// <param name="AnsweredAt">When it was answered; null when it was not.</param>
public sealed record SessionQuestion(AskedQuestion Asked, DateTimeOffset At, QuestionState State, DateTimeOffset? AnsweredAt = null)
{
    /// <summary>Whether the user has answered it.</summary>
    public bool IsAnswered => State is QuestionState.Accepted or QuestionState.Dismissed;
}

/// <summary>The questions of a session in the order of asking; one at most is open, the last one asked. Immutable.</summary>
public sealed record QuestionLog
{
    /// <summary>Nothing was asked.</summary>
    public static QuestionLog Empty { get; } = new();

    /// <summary>All of them. One that is asked again stands in place of the one that was not answered.</summary>
    public ImmutableArray<SessionQuestion> All { get; private init; } = [];

    /// <summary>The one that waits for an answer; null when none does.</summary>
    public SessionQuestion? Open => All.FirstOrDefault(q => q.State == QuestionState.Open);

    /// <summary>Adds a question, open unless reading has gone on since.</summary>
    public QuestionLog Ask(AskedQuestion asked, DateTimeOffset at, bool passedOver) => new()
    {
        All =
        [
            .. Close(QuestionState.Withdrawn).All.Where(q => q.IsAnswered || q.Asked.Key != asked.Key),
            new SessionQuestion(asked, at, passedOver ? QuestionState.PassedOver : QuestionState.Open),
        ],
    };

    /// <summary>The open question is not answered any more.</summary>
    public QuestionLog Close(QuestionState state) => Replace(Open, q => q with { State = state });

    /// <summary>The open question is answered.</summary>
    public QuestionLog Answer(QuestionState state, DateTimeOffset at) => Replace(Open, q => q with { State = state, AnsweredAt = at });

    /// <summary>The remedy that was accepted last is taken back, so that its question is open again.</summary>
    public QuestionLog Reopen()
    {
        var closed = Close(QuestionState.Withdrawn);
        return closed.Replace(
            closed.All.Where(q => q.State == QuestionState.Accepted).MaxBy(q => q.AnsweredAt), q => q with { State = QuestionState.Open, AnsweredAt = null });
    }

    /// <summary>
    /// Keys of questions that are not to be asked again: those that were answered, unless the answer changed the reads, and those that the
    /// user passed over, until all is read.
    /// </summary>
    /// <param name="passedOver">Whether those that were passed over are among them.</param>
    public IReadOnlySet<string> Settled(bool passedOver) => All
        .Where(q => q.State switch
        {
            QuestionState.Accepted => !q.Asked.Remedy.ChangesReads(),
            QuestionState.PassedOver or QuestionState.Open => passedOver,
            QuestionState.Dismissed => true,
            _ => false,
        })
        .Select(q => q.Asked.Key)
        .ToHashSet();

    /// <summary>The questions as the record of the strip has them.</summary>
    public ImmutableArray<StripQuestion> ToRecord(StripLayout layout) =>
    [
        .. All.Select(q => new StripQuestion(q.Asked.Kind, q.Asked.Question, RemedyWords.Of(q.Asked.Remedy, layout), q.Asked.Evidence, q.At)
        {
            Answer = q.State switch
            {
                QuestionState.Accepted => QuestionAnswer.Accepted,
                QuestionState.Dismissed => QuestionAnswer.Dismissed,
                _ => QuestionAnswer.Unanswered,
            },
            AnsweredAt = q.AnsweredAt,
        }),
    ];

    private QuestionLog Replace(SessionQuestion? question, Func<SessionQuestion, SessionQuestion> by) =>
        question is null ? this : new QuestionLog { All = All.Replace(question, by(question)) };
}
