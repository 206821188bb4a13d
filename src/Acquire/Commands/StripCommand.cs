using System.CommandLine;
using Acquire.Analysis.Judgement;
using Acquire.Bench;
using Acquire.Commands.Books;
using Acquire.Hosting;
using Acquire.Rendering;

namespace Acquire.Commands;

/// <summary><c>acquire strip</c>: the records.</summary>
internal static class StripCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("strip", "Strip records.") { BuildList(surroundings), BuildShow(surroundings) };

    private static Command BuildList(Surroundings surroundings)
    {
        var filter = new StripFilterOptions();
        var json = Common.Json();
        var command = new Command("list", "List the strips, a line each.") { json };
        filter.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var strips = await store.ListStripsAsync(filter.Of(parsed), cancellationToken)
                .Select(s => (s, StripJudge.Judge(s)))
                .ToListAsync(cancellationToken);
            StripListReport.Write(surroundings.Out, strips, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var id = new Argument<string>("id") { Description = "The strip's id, or enough of its end to tell it from others.", HelpName = "ID" };
        var reads = new Option<bool>("--reads") { Description = "Show every read, excluded ones too." };
        var json = Common.Json();
        var command = new Command("show", "Show a strip: parameters, deviations, zones.") { id, reads, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var wanted = parsed.GetRequiredValue(id);
            var strip = await store.FindStripAsync(wanted, cancellationToken)
                ?? throw new BenchException($"There is no strip {wanted}. See: acquire strip list");
            StripReport.Write(
                surroundings.Out,
                strip,
                StripJudge.Judge(strip),
                surroundings.Time,
                parsed.GetValue(json),
                await BookOptions.Books(store, surroundings).ContextAsync(strip, cancellationToken));
            if (parsed.GetValue(reads) && !parsed.GetValue(json))
            {
                ReadsTable.Write(surroundings.Out, strip);
            }

            return ExitCode.Done;
        });
        return command;
    }
}
