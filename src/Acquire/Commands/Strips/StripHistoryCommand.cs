using Acquire.Rendering.Strips;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip history</c>: every revision of a record, with who, when, why and what it changed.</summary>
internal static class StripHistoryCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = StripCommand.Id();
        var json = Common.Json();
        var command = new Command("history", "Show every revision of a strip record: who, when, why, and what changed.") { id, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var strip = await StripCommand.FindAsync(store, parsed.GetRequiredValue(id), cancellationToken);
            StripHistoryReport.Write(
                surroundings.Out, await store.StripRevisionsAsync(strip.Id, cancellationToken), surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }
}
