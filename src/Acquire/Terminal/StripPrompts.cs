using Acquire.Bench.Readings;

namespace Acquire.Terminal;

/// <summary>
/// Asks at a keyboard what must be known before a strip is read; where there is none, takes what was used last and says so.
/// </summary>
internal static class StripPrompts
{
    public static async Task<StripAsked> AnswerAsync(
        StripAsked asked, AcquireStore store, Surroundings surroundings, CancellationToken cancellationToken)
    {
        var questions = new StripQuestions(store, surroundings.Time);
        if (!surroundings.HasKeyboard)
        {
            return await questions.TakeUsualAsync(asked, surroundings.Error.Line, cancellationToken);
        }

        while (await questions.NextAsync(asked, cancellationToken) is { } question)
        {
            var known = question.Known.Length > 1 ? $" ({string.Join(", ", question.Known)})" : "";
            var enter = question.Usual is { } usual ? $"Enter: {usual}" : question.MayBeNone ? "Enter: none" : "";
            var none = question is { MayBeNone: true, Usual: not null } ? $"; {StripQuestions.None}: none" : "";
            surroundings.Error.Profile.Out.Writer.Write(
                $"{question.Text}{known}{(enter.Length > 0 ? $" [{enter}{none}]" : "")}: ");
            // A blocked read of the console cannot be ended; it is left behind when Ctrl-C ends the command.
            var answer = await Task.Run(surroundings.Input.ReadLine, CancellationToken.None).WaitAsync(cancellationToken)
                ?? throw new OperationCanceledException();
            try
            {
                asked = asked.With(question, answer);
            }
            catch (BenchException unanswered)
            {
                surroundings.Error.Line(unanswered.Message);
            }
        }

        return asked;
    }
}
