namespace Acquire.Domain.Records;

/// <summary>What the user said to a question.</summary>
public enum QuestionAnswer
{
    /// <summary>Nothing: reading went on, or nobody was there.</summary>
    Unanswered,

    /// <summary>Yes: what was proposed was done, or the user saw to it.</summary>
    Accepted,

    /// <summary>No: the strip stayed as it was read.</summary>
    Dismissed,
}

/// <summary>
/// A question that was asked while a strip was read, because a mistake of reading was likelier than what the process can do.
/// </summary>
/// <param name="Kind">The mistake that was suspected, as a word such as <c>wrong_end</c>.</param>
/// <param name="Question">The question as it was shown.</param>
/// <param name="Remedy">What was proposed, in words.</param>
/// <param name="Evidence">Natural logarithm of the odds of the mistake against "the process did this"; 3 is 20 to 1.</param>
/// <param name="AskedAt">When it was asked.</param>
public sealed record StripQuestion(string Kind, string Question, string Remedy, double Evidence, DateTimeOffset AskedAt)
{
    /// <summary>What the user said.</summary>
    public QuestionAnswer Answer { get; init; }

    /// <summary>When the user said it; null when nothing was said.</summary>
    public DateTimeOffset? AnsweredAt { get; init; }
}
