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
            var board = await new DailyDesk(store, Common.Processes(parsed), surroundings.Time).AskAsync(cancellationToken);
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
}
