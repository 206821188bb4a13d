using Acquire.Instruments.Learning;
using Acquire.Rendering.Monitoring;

namespace Acquire.Terminal;

/// <summary>Talks on standard error and takes the answers from standard input, where a person or a script may be.</summary>
internal sealed class LearningDesk(Surroundings surroundings) : ILearningDesk
{
    /// <summary>Noise without end is shown by its beginning.</summary>
    private const int MostRows = 12;

    public void Say(string text) => surroundings.Error.Line(text);

    public void Show(Burst burst)
    {
        var rows = burst.Lines().Take(MostRows).Select(l => $"  {l}").Concat(
            HexRows.Of(burst.Bytes.AsMemory()).Take(MostRows).Select(r => $"    {r}"));
        foreach (var row in rows)
        {
            surroundings.Error.Line(row);
        }
    }

    public async ValueTask<string?> AskAsync(string question, CancellationToken cancellationToken)
    {
        ForgetKeys();
        surroundings.Error.Line(question);
        if (surroundings.HasKeyboard)
        {
            surroundings.Error.Profile.Out.Writer.Write("> ");
        }

        // A blocked read of the console cannot be ended; it is left behind when Ctrl-C ends the learning, and the process ends without it.
        var answer = await Task.Run(surroundings.Input.ReadLine, CancellationToken.None).WaitAsync(cancellationToken);
        if (surroundings.HasKeyboard)
        {
            surroundings.Error.Line("");
        }

        return answer;
    }

    /// <summary>Keys that were pressed while nothing was asked answer nothing.</summary>
    private void ForgetKeys()
    {
        while (surroundings.HasKeyboard && Console.KeyAvailable)
        {
            _ = Console.ReadKey(intercept: true);
        }
    }
}
