using Acquire.Bench.Causes;
using Acquire.Commands.Strips;
using Acquire.Rendering.Causes;

namespace Acquire.Commands.Studies;

/// <summary>
/// <c>acquire causes</c>: what may have caused the deviations of a strip. It judges nothing, so it is done when it is told.
/// </summary>
internal static class CausesCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = StripCommand.Id();
        var ruledOut = new Option<string[]>("--rule-out")
        {
            Description = "Faults that a test of yours has ruled out, by key; the JSON and the text name the keys.",
            HelpName = "KEY",
            AllowMultipleArgumentsPerToken = true,
        };
        var json = Common.Json();
        var command = new Command(
            "causes", "Rank what may have caused the deviations of a strip, with what speaks for and against it, and what to do first.")
        {
            id, ruledOut, json,
        };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var found = await new CauseDesk(store, surroundings.Time).AskAsync(
                new CauseAsked(parsed.GetRequiredValue(id), parsed.GetValue(ruledOut) ?? []), cancellationToken);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, CauseJson.Of(found));
            }
            else
            {
                CauseText.Write(surroundings.Out, found);
            }

            return ExitCode.Done;
        });
        return command;
    }
}
