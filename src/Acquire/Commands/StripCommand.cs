using System.CommandLine;
using Acquire.Bench;
using Acquire.Commands.Books;
using Acquire.Bench.Strips;
using Acquire.Domain.Records;
using Acquire.Hosting;
using Acquire.Rendering;
using Acquire.Storage;

namespace Acquire.Commands;

/// <summary><c>acquire strip</c>: the records.</summary>
internal static class StripCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("strip", "Strip records.") 
        {
            BuildList(surroundings),
            BuildShow(surroundings),
            StripAmendCommand.Build(surroundings),
            StripHistoryCommand.Build(surroundings),
        };

    internal static Argument<string> Id() =>
        new("id") { Description = "The strip's id, or enough of its end to tell it from others.", HelpName = "ID" };

    internal static async Task<StripRecord> FindAsync(AcquireStore store, string id, CancellationToken cancellationToken) =>
        await store.FindStripAsync(id, cancellationToken) ?? throw new BenchException($"There is no strip {id}. See: acquire strip list");

    private static Command BuildList(Surroundings surroundings)
    {
        var filter = new StripFilterOptions();
        var json = Common.Json();
        var command = new Command("list", "List the strips, a line each.") { json };
        filter.AddTo(command);
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var judging = await StripJudging.LoadAsync(store, cancellationToken);
            var strips = await store.ListStripsAsync(filter.Of(parsed), cancellationToken)
                .Select(s => (s, judging.Judge(s)))
                .ToListAsync(cancellationToken);
            StripListReport.Write(surroundings.Out, strips, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var id = Id();
        var reads = new Option<bool>("--reads") { Description = "Show every read, excluded ones too." };
        var revision = new Option<int?>("--revision") { Description = "An earlier revision of the record; the newest when not given.", HelpName = "N" };
        var json = Common.Json();
        var command = new Command("show", "Show a strip: parameters, deviations, zones.") { id, reads, revision, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var wanted = parsed.GetRequiredValue(id);
            var strip = await FindAsync(store, wanted, cancellationToken);
            if (parsed.GetValue(revision) is { } number)
            {
                var all = await store.StripRevisionsAsync(strip.Id, cancellationToken);
                strip = all.FirstOrDefault(r => r.Revision.Number == number)
                    ?? throw new BenchException($"Strip {wanted} has no revision {number}; it has 1 to {all.Count}.");
            }

            var judging = await StripJudging.LoadAsync(store, cancellationToken);
            var ties = await StripTies.OfAsync(store, strip, cancellationToken);
            var context = await BookOptions.Books(store, surroundings).ContextAsync(strip, cancellationToken);
            StripReport.Write(surroundings.Out, strip, judging.Judge(strip), surroundings.Time, parsed.GetValue(json), ties, context);
            if (parsed.GetValue(reads) && !parsed.GetValue(json))
            {
                ReadsTable.Write(surroundings.Out, strip);
            }

            return ExitCode.Done;
        });
        return command;
    }
}
