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

/// <summary>Asks at a desk, and ends the learning when nobody answers or the user stops it.</summary>
internal sealed class DeskTalk(ILearningDesk desk)
{
    public void Say(string text) => desk.Say(text);

    public void Show(Burst burst) => desk.Show(burst);

    /// <summary>The answer, trimmed.</summary>
    /// <exception cref="DeclinedException">There is none, or it is <c>q</c>.</exception>
    public async Task<string> AskAsync(string question, CancellationToken cancellationToken)
    {
        var answer = await desk.AskAsync(question, cancellationToken)
            ?? throw new DeclinedException(
                $"Nobody answered '{question}': standard input is closed. Answer at the keyboard, or write the answers to standard input, "
                + "a line each.");
        return answer.Trim() is var text && Is(text, "q", "quit") ? throw new DeclinedException("Stopped; nothing was written.") : text;
    }

    public static bool Is(string answer, params ReadOnlySpan<string> words)
    {
        foreach (var word in words)
        {
            if (answer.Equals(word, StringComparison.OrdinalIgnoreCase))
            {
                return true;
            }
        }

        return false;
    }
}
