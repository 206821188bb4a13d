using Acquire.Bench.Sessions;
using Acquire.Rendering.Sessions;

namespace Acquire.Commands.Readings;

/// <summary><c>acquire session</c>: the readings at the bench, ended or broken off.</summary>
internal static class SessionCommand
{
    public static Command Build(Surroundings surroundings) =>
        new("session", "Sessions at the bench: what was received, and how they ended.")
        {
            BuildList(surroundings), BuildShow(surroundings), BuildDiscard(surroundings),
        };

    private static Argument<string> Id() =>
        new("id") { Description = "The session's id, or enough of its end to tell it from others.", HelpName = "ID" };

    private static Command BuildList(Surroundings surroundings)
    {
        var unfinished = new Option<bool>("--unfinished") { Description = "Only those that were broken off and can be gone on with." };
        var json = Common.Json();
        var command = new Command("list", "List the sessions, a line each.") { unfinished, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var sessions = (await new SessionBook(store, surroundings.Time).ListAsync(cancellationToken))
                .Where(s => !parsed.GetValue(unfinished) || (s.Session.IsUnfinished && s.Reader is null));
            SessionListReport.Write(surroundings.Out, [.. sessions], surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildShow(Surroundings surroundings)
    {
        var id = Id();
        var json = Common.Json();
        var command = new Command("show", "Show a session: its patches with every read, and its lines as received.") { id, json };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var book = new SessionBook(store, surroundings.Time);
            var stored = await book.GetAsync(parsed.GetRequiredValue(id), cancellationToken);
            var progress = await book.ProgressAsync(stored.Session, cancellationToken);
            var lines = await store.SessionLinesAsync(stored.Session.Id, cancellationToken);
            var reader = stored.End is null ? store.ReaderOf(stored.Session.Id) : null;
            var shown = new ShownSession(
                stored, reader, progress?.Strip, lines) { Questions = progress?.Questions.ToRecord(progress.Strip.Plan.Layout) ?? [] };
            SessionShowReport.Write(surroundings.Out, shown, surroundings.Time, parsed.GetValue(json));
            return ExitCode.Done;
        });
        return command;
    }

    private static Command BuildDiscard(Surroundings surroundings)
    {
        var id = Id();
        var reason = new Option<string>("--reason")
        {
            Description = "Why it is not gone on with; kept with it.",
            HelpName = "TEXT",
            DefaultValueFactory = _ => "discarded by the user",
        };
        var command = new Command("discard", "End a session that was broken off. Nothing of it is deleted.") { id, reason };
        command.SetAction(async (parsed, cancellationToken) =>
        {
            await using var store = await Common.OpenStoreAsync(parsed, surroundings, cancellationToken);
            var book = new SessionBook(store, surroundings.Time);
            var stored = await book.GetAsync(parsed.GetRequiredValue(id), cancellationToken);
            await book.DiscardAsync(stored, parsed.GetRequiredValue(reason), cancellationToken);
            surroundings.Out.Line($"Session {StripId.ShortForm(stored.Session.Id)} is ended as cancelled; what was read stays in it.");
            return ExitCode.Done;
        });
        return command;
    }
}
