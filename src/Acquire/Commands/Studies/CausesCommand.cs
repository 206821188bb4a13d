using Acquire.Analysis.Causes;
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
            var strip = await StripCommand.FindAsync(store, parsed.GetRequiredValue(id), cancellationToken);
            var found = await CauseContexts.LoadAsync(store, strip, parsed.GetValue(ruledOut) ?? [], surroundings.Time, cancellationToken);
            var study = CauseStudy.Of(found.Strip, found.Context);
            if (parsed.GetValue(json))
            {
                JsonOutput.Write(surroundings.Out, CauseJson.Of(study, found));
            }
            else
            {
                CauseText.Write(surroundings.Out, study, found);
            }

            return ExitCode.Done;
        });
        return command;
    }
}
