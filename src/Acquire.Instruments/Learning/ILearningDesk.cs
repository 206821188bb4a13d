namespace Acquire.Instruments.Learning;

/// <summary>The person at the instrument: what is said and shown to them, and what they answer.</summary>
public interface ILearningDesk
{
    /// <summary>Says something; a sentence or two.</summary>
    void Say(string text);

    /// <summary>Shows what came, as text and as bytes.</summary>
    void Show(Burst burst);

    /// <summary>Asks and waits for the answer, a line of text.</summary>
    /// <returns>The answer; null when there will be none, because nobody is there to answer.</returns>
    ValueTask<string?> AskAsync(string question, CancellationToken cancellationToken);
}
