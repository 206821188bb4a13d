using Acquire.Bench.Books;
using Acquire.Rendering.Books;

namespace Acquire.Commands.Books;

/// <summary><c>acquire event</c>: what belongs on the charts.</summary>
internal static class EventCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("event", "Events that belong on the charts: a new mix, a repair, a pause.")
        {
            BuildAdd(surroundings),
            BuildList(surroundings),
        };

    private static Command BuildAdd(Surroundings surroundings)
    {
        var words = new Argument<string[]>("kind-and-text")
        {
            Description = $"The kind ({string.Join(", ", KindWords.All<BookEventKind>())}) and what happened, such as repair \"pump "
                + "bearing changed\".",
            HelpName = "[KIND] TEXT",
            Arity = ArgumentArity.OneOrMore,
        };
        var line = new Option<string?>("--line") { Description = "The line it concerns.", HelpName = "NAME" };
        var bottle = new Option<string?>("--bottle") { Description = "The bottle it concerns.", HelpName = "NAME" };
        var command = new Command("add", "Enter an event.") { words, line, bottle };
        return BookOptions.Enters(command, surroundings, parsed =>
        {
            var all = parsed.GetRequiredValue(words);
            var kind = KindWords.TryOf<BookEventKind>(all[0]);
            return new EventRequest(
                kind, string.Join(' ', kind is null ? all : all[1..]), parsed.GetValue(line), parsed.GetValue(bottle));
        });
    }

    private static Command BuildList(Surroundings surroundings)
    {
        var all = new Option<bool>("--all") { Description = "Every entry in the books, withdrawn ones too." };
        return BookOptions.Shows(
            new Command("list", "List the events.") { all },
            surroundings,
            (parsed, books, cancellationToken) => books.EventsAsync(parsed.GetValue(all), cancellationToken),
            (console, entries, time, json) => EntryReport.Write(
                console, entries, time, json, "No events yet. Enter one: acquire event add repair \"pump bearing changed\""));
    }
}

/// <summary><c>acquire undo</c>: takes an entry in the books back.</summary>
internal static class UndoCommand
{
    public static Command Build(Surroundings surroundings)
    {
        var id = new Argument<string?>("id")
        {
            Description = "The entry, by the end of its id that 'acquire event list --all' shows; the last one when not given.",
            HelpName = "ID",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var reason = new Option<string>("--reason")
        {
            Description = "Why.",
            HelpName = "TEXT",
            DefaultValueFactory = _ => "entered by mistake",
        };
        var by = Given.Option<string?>("--by", "NAME", "Who takes it back; the user of this computer when not given.");
        var command = new Command(
            "undo", "Take the last entry in the books back. It stays, marked as withdrawn, and counts no more.") { id, reason, by };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            EnteredReport.Write(surroundings, await new DarkroomBooks(store, surroundings.Time).EnterAsync(
                new UndoRequest(parsed.GetValue(id), parsed.GetRequiredValue(reason)),
                new EntryInput(parsed.GetValue(by) ?? surroundings.User),
                cancellationToken));
            return ExitCode.Done;
        });
        return command;
    }
}
