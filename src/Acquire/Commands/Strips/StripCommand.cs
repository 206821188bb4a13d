using Acquire.Bench.Strips;
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
            StripAssumeCommand.Build(surroundings),
            StripAmendCommand.Build(surroundings),
            StripHistoryCommand.Build(surroundings),
        };

    internal static Argument<string> Id() =>
        new("id") { Description = "The strip's id, or enough of its end to tell it from others.", HelpName = "ID" };

    internal static StripBook Book(ParseResult parsed, AcquireStore store, Surroundings surroundings) =>
        new(store, Common.Lots(parsed, store, surroundings), surroundings.Time);

    private static Command BuildList(Surroundings surroundings)
    {
        var filter = new StripFilterOptions();
        var command = Common.Shows(
            new Command("list", "List the strips, a line each."),
            surroundings,
            (parsed, store, cancellationToken) => Book(parsed, store, surroundings)
                .ListAsync(filter.Of(parsed, surroundings.Time).Strips, StripLevelCommand.InForce(parsed), cancellationToken),
            StripListReport.Write);
        filter.AddTo(command);
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var id = Id();
        var reads = new Option<bool>("--reads") { Description = "Show every read, excluded ones too." };
        var revision = Given.Option<int?>("--revision", "N", "An earlier revision of the record; the newest when not given.");
        var budget = new Option<bool>("--budget") { Description = "Show what the uncertainty of each deviation is made of." };
        var with = Given.Option<string[]>(
            "--with", "ID", "Take that strip together with this one, as two that ran at one state of the process; may be repeated.");
        var level = StripLevelCommand.Option();
        var json = Common.Json();
        var command = new Command(
            "show", "Show a strip: parameters, deviations, zones, verdicts.") { id, reads, revision, budget, with, level, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var (wanted, sure) = (parsed.GetRequiredValue(id), StripLevelCommand.InForce(parsed, level));
            if (parsed.GetValue(with) is { Length: > 0 } others)
            {
                var together = await Book(parsed, store, surroundings).TogetherAsync([wanted, .. others], sure, cancellationToken);
                CombinedReport.Write(surroundings.Out, together, parsed.GetValue(json));
                return together.IsOutOfControl ? ExitCode.OutOfControl : ExitCode.Done;
            }

            var (strip, judgement, ties, context) = await Book(parsed, store, surroundings)
                .ShowAsync(new StripShowRequest(wanted, sure, parsed.GetValue(revision)), cancellationToken);
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
}

/// <summary><c>acquire strip history</c>: every revision of a record, with who, when, why and what it changed.</summary>
internal static class StripHistoryCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = StripCommand.Id();
        return Common.Shows(
            new Command("history", "Show every revision of a strip record: who, when, why, and what changed.") { id },
            surroundings,
            (parsed, store, cancellationToken) =>
                StripCommand.Book(parsed, store, surroundings).HistoryAsync(parsed.GetRequiredValue(id), cancellationToken),
            StripHistoryReport.Write);
    }
}
