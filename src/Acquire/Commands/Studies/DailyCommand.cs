using Acquire.Bench.Daily;
using Acquire.Rendering.Daily;

namespace Acquire.Commands.Studies;

/// <summary><c>acquire daily</c>: may I process film today, and what is to be done first?</summary>
internal static class DailyCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var json = Common.Json();
        var command = new Command(
            "daily",
            "May I process film today? What the newest strips tell, and what to do first. "
            + "Exit code 1 when the answer is to stop.") { json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var facts = await new DailyLoader(store, surroundings.Time, Names(parsed)).LoadAsync(cancellationToken);
            var board = DailyBoard.Of(facts);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, DailyJson.Of(board));
            }
            else
            {
                DailyText.Write(surroundings.Out, board, surroundings.Time);
            }

            return board.Stops ? ExitCode.OutOfControl : ExitCode.Done;
        });
        return command;
    }

    /// <summary>The name of a process; its key where there is no sheet of it any more.</summary>
    private static Func<string, string> Names(ParseResult parsed)
    {
        var sheets = Common.Processes(parsed).List(out _);
        return key => sheets.FirstOrDefault(s => string.Equals(s.Key, key, StringComparison.OrdinalIgnoreCase))?.Name ?? key;
    }
}
