using System.Text;
using Acquire.Instruments.Learning;

namespace Acquire.Instruments.Tests.Learning.Live;

/// <summary>A person who presses the key whenever told to, and answers from a list; after its end nobody is there.</summary>
internal sealed class ScriptedDesk(KeyedInstrument instrument, params IEnumerable<string> answers) : ILearningDesk
{
    /// <summary>An answer that stands for pressing the key once more while typing what follows the mark.</summary>
    public const string PressAnd = "(pressed) ";

    private readonly Queue<string> _answers = new(answers);
    private readonly StringBuilder _said = new();

    public string Said => _said.ToString();

    public int Shown { get; private set; }

    public bool IsDone => _answers.Count == 0;

    public void Say(string text)
    {
        _said.AppendLine(text);
        if (text.Contains("press the instrument's key", StringComparison.Ordinal))
        {
            instrument.Press();
        }
    }

    public void Show(Burst burst) => Shown++;

    public ValueTask<string?> AskAsync(string question, CancellationToken cancellationToken)
    {
        _said.AppendLine(question);
        if (!_answers.TryDequeue(out var answer))
        {
            return new((string?)null);
        }

        if (answer.StartsWith(PressAnd, StringComparison.Ordinal))
        {
            instrument.Press();
            answer = answer[PressAnd.Length..];
        }

        return new(answer);
    }
}
