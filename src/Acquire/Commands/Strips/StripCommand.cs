using Acquire.Analysis.Judgement;
using Acquire.Analysis.Uncertainty;
using Acquire.Bench.Strips;
using Acquire.Commands.Books;
using Acquire.Rendering.Strips;

namespace Acquire.Commands.Strips;

/// <summary><c>acquire strip</c>: the records.</summary>
internal static class StripCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("strip", "Strip records.") 
        {
            BuildList(surroundings),
            BuildShow(surroundings),
            StripLevelCommand.Build(surroundings),
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
            var judging = await StripJudging.LoadAsync(store, cancellationToken, StripLevelCommand.InForce(parsed));
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
        var revision = new Option<int?>(
            "--revision") { Description = "An earlier revision of the record; the newest when not given.", HelpName = "N" };
        var budget = new Option<bool>("--budget") { Description = "Show what the uncertainty of each deviation is made of." };
        var with = new Option<string[]>("--with") {
            Description = "Take that strip together with this one, as two that ran at one state of the process; may be repeated.",
            HelpName = "ID" };
        var level = StripLevelCommand.Option();
        var json = Common.Json();
        var command = new Command(
            "show", "Show a strip: parameters, deviations, zones, verdicts.") { id, reads, revision, budget, with, level, json };
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

            var judging = await StripJudging.LoadAsync(store, cancellationToken, StripLevelCommand.InForce(parsed, level));
            var ties = await StripTies.OfAsync(store, strip, cancellationToken);
            var context = await BookOptions.Books(store, surroundings).ContextAsync(strip, cancellationToken);
            if (parsed.GetValue(with) is { Length: > 0 } others)
            {
                return await ShowTogetherAsync(surroundings, store, judging, [wanted, .. others], parsed.GetValue(json), cancellationToken);
            }

            var judgement = judging.Judge(strip);
            StripReport.Write(surroundings.Out, strip, judgement, surroundings.Time, parsed.GetValue(json), ties, context);
            if (parsed.GetValue(budget) && !parsed.GetValue(json))
            {
                BudgetTable.Write(surroundings.Out, judgement);
            }

            if (parsed.GetValue(reads) && !parsed.GetValue(json))
            {
                ReadsTable.Write(surroundings.Out, strip);
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<int> ShowTogetherAsync(
        Surroundings surroundings,
        AcquireStore store, StripJudging judging, string[] wanted, bool json, CancellationToken cancellationToken)
    {
        var strips = new List<StripRecord>();
        foreach (var id in wanted)
        {
            strips.Add(await FindAsync(store, id, cancellationToken));
        }

        if (strips.Select(s => s.Id).Distinct().Count() < strips.Count || strips.Select(s => s.JudgedBy.Key).Distinct().Count() > 1)
        {
            throw new BenchException("Strips that are taken together are different strips of one process.");
        }

        var combined = CombinedResult.Of([.. strips.Select(judging.Judge)], judging.Level);
        if (json)
        {
            JsonOutput.Write(surroundings.Out, new { Strips = strips.Select(s => s.Id), Parameters = CombinedReport.Json(combined) });
        }
        else
        {
            CombinedReport.Write(surroundings.Out, combined, strips.Count);
        }

        return combined.Any(c => c.Verdict?.Verdict == Verdict.OutOfControl) ? ExitCode.OutOfControl : ExitCode.Done;
    }
}
