using System.Text.Json;
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

    public QuestionLog Answer(QuestionState state, DateTimeOffset at) => Replace(Open, q => q with { State = state, AnsweredAt = at });

    /// <summary>The remedy that was accepted last is taken back, so that its question is open again.</summary>
    public QuestionLog Reopen()
    {
        var closed = Close(QuestionState.Withdrawn);
        return closed.Replace(
            closed.All.Where(q => q.State == QuestionState.Accepted).MaxBy(q => q.AnsweredAt),
            q => q with { State = QuestionState.Open, AnsweredAt = null });
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

/// <summary>A question as the journal has it: whole, with what would be done, so that a session is rebuilt without asking anew.</summary>
/// <param name="Kind">The mistake that is suspected, as a word such as <c>wrong_end</c>.</param>
/// <param name="Key">What tells it from other questions.</param>
/// <param name="Evidence">Natural logarithm of the odds of the mistake against "the process did this".</param>
public sealed record AskedQuestion(string Kind, string Key, string Question, Remedy Remedy, double Evidence)
{
    /// <summary>The question about a suspicion.</summary>
    public static AskedQuestion Of(Suspicion suspicion)
    {
        return new(
            JsonNamingPolicy.SnakeCaseLower.ConvertName(suspicion.Kind.ToString()),
            suspicion.Key, suspicion.Question, suspicion.Remedy, suspicion.Evidence);
    }
}

/// <summary>Finds what to ask about a strip as it stands.</summary>
/// <param name="knowledge">What is known of the strip.</param>
/// <param name="atKeyboard">
/// Whether a person can answer. Where nobody is, nobody may have placed the strip either: readings come faster than a hand could, and their
/// pace tells nothing.
/// </param>
public sealed class SessionQuestioner(StripKnowledge knowledge, bool atKeyboard)
{
    private readonly PlausibilityCheck _check = new(
        atKeyboard ? knowledge : knowledge with { Settings = knowledge.Settings with { QuickestPlacing = TimeSpan.Zero } });

    /// <summary>The next question; null for none, or while one waits for an answer.</summary>
    public AskedQuestion? Next(SessionProgress progress)
    {
        // One question at a time, and none before a read counts.
        var (strip, log) = (progress.Strip, progress.Questions);
        if (log.Open is not null || strip.LastRead is not { Reading: var last })
        {
            return null;
        }

        var found = strip.IsComplete
            ? _check.QuestionWhenComplete(strip.Patches, log.Settled(passedOver: false))
                ?? OfLastRead(strip.Patches, log.Settled(passedOver: true), last)
            : _check.QuestionAfterRead(strip.Patches, log.Settled(passedOver: true), last);
        return found is null ? null : AskedQuestion.Of(found);
    }

    /// <summary>What shows in the last read alone is not among what is asked about the whole strip.</summary>
    private Suspicion? OfLastRead(ImmutableArray<PatchReads> patches, IReadOnlySet<string> settled, Reading last) =>
        _check.RankAfterRead(patches, last).FirstOrDefault(
            s => s.Kind is SuspicionKind.DoubleTrigger or SuspicionKind.RelativeMode && _check.IsDecisive(s) && !settled.Contains(s.Key));
}
