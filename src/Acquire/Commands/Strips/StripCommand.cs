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
        var revision = new Option<int?>("--revision")
        {
            Description = "An earlier revision of the record; the newest when not given.",
            HelpName = "N",
        };
        var budget = new Option<bool>("--budget") { Description = "Show what the uncertainty of each deviation is made of." };
        var with = new Option<string[]>("--with")
        {
            Description = "Take that strip together with this one, as two that ran at one state of the process; may be repeated.",
            HelpName = "ID",
        };
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
            var ties = await StripTies.OfAsync(store, strip, judging, cancellationToken);
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
        AcquireStore store,
        StripJudging judging,
        string[] wanted,
        bool json,
        CancellationToken cancellationToken)
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

        return WholeStrip.SurelyOut(combined.Select(c => c.Verdict).OfType<VerdictResult>()).Count > 0
            ? ExitCode.OutOfControl
            : ExitCode.Done;
    }
}

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

/// <summary><c>acquire strip level</c>: how sure a verdict must be.</summary>
internal static class StripLevelCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var level = new Argument<double?>("level")
        {
            Description = "Probability, above 0.5 and below 1, such as 0.95. Shows the setting when not given.",
            HelpName = "P",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var command = new Command("level", "Settle how sure a verdict of in or out of control must be.") { level };
        command.SetAction(parsed =>
        {
            var folder = DataFolder.Resolve(parsed.GetValue(Common.Data));
            var settings = Settings.Of(folder);
            if (parsed.GetValue(level) is { } wanted)
            {
                settings = settings with { VerdictLevel = Checked(wanted) };
                settings.Save(folder);
            }

            surroundings.Out.Line($"Verdicts ask for {Of(settings).ToString("0.## %", CultureInfo.InvariantCulture)}.");
            return ExitCode.Done;
        });
        return command;
    }

    public static Option<double?> Option() => new("--level")
    {
        Description = "How sure a verdict must be, such as 0.95; for this once, instead of what 'acquire strip level' settled.",
        HelpName = "P",
    };

    /// <summary>What the user says now, or else settled before.</summary>
    public static double InForce(ParseResult parsed, Option<double?>? option = null) =>
        option is not null && parsed.GetValue(option) is { } wanted
            ? Checked(wanted)
            : Of(Settings.Of(DataFolder.Resolve(parsed.GetValue(Common.Data))));

    private static double Of(Settings settings) => Checked(settings.VerdictLevel ?? Verdicts.UsualLevel);

    private static double Checked(double level) => level is > 0.5 and < 1
        ? level
        : throw new BenchException(string.Create(
            CultureInfo.InvariantCulture,
            $"{level} is no level of a verdict; expected a probability above 0.5 and below 1, such as 0.95."));
}
