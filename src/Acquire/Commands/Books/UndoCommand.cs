namespace Acquire.Commands.Books;

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
        var reason =
            new Option<string>("--reason") { Description = "Why.", HelpName = "TEXT", DefaultValueFactory = _ => "entered by mistake" };
        var by =
            new Option<string?>("--by") { Description = "Who takes it back; the user of this computer when not given.", HelpName = "NAME" };
        var command = new Command(
            "undo", "Take the last entry in the books back. It stays, marked as withdrawn, and counts no more.") { id, reason, by };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            BookOptions.Tell(surroundings, await BookOptions.Books(store, surroundings).UndoAsync(
                parsed.GetValue(id), parsed.GetRequiredValue(reason), parsed.GetValue(by) ?? surroundings.User, cancellationToken));
            return ExitCode.Done;
        });
        return command;
    }
}
