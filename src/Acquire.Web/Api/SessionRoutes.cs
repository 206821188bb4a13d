using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using Acquire.Bench.Service;
using Acquire.Bench.Sessions;
using Acquire.Bench.Trust;
using Acquire.Web.Documents;
using Acquire.Web.Security;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Extensions.Hosting;
using Results = Microsoft.AspNetCore.Http.TypedResults;

namespace Acquire.Web.Api;

/// <summary>Sessions at the bench: begun, watched, operated, gone on with.</summary>
internal static class SessionRoutes
{
    private const int MostListed = 500;

    /// <summary>The route that shows one.</summary>
    private const string Shown = "showSession";

    public static void MapSessions(this RouteGroupBuilder api)
    {
        var sessions = api.MapGroup("/sessions").WithTags("sessions");
        sessions.MapGet("", ListAsync).Reads(
            "listSessions", "The sessions, the newest first: those that go on, those that ended, those broken off.");
        sessions.MapPost("", BeginAsync)
            .Writes(
                "beginSession",
                "Begins a session. It goes on whoever watches it; the instrument's own key is enough.",
                new { Purpose = "strip", Instrument = "bench densitometer", Lot = "2417", Line = "dip tank", ReadsPerPatch = 3 });
        sessions.MapGet("/{id:guid}", GetAsync)
            .Reads(Shown, "A session as it stands.");
        sessions.MapPost("/{id:guid}/commands", DoAsync)
            .Writes(
                "operateSession",
                "Operates a session. The command names the sequence it was given for; a stale one is refused, with what has happened "
                + "since.",
                new { Command = "undo", Sequence = 12 });
        sessions.MapPost("/{id:guid}/resume", ResumeAsync)
            .Writes("resumeSession", "Goes on with a session that was broken off, at the same patch and read.", new { KeepAfter = 3 });
        sessions.MapGet("/{id:guid}/events", EventsAsync)
            .Reads("watchSession", "What happens in a session, as server-sent events; with Last-Event-ID from there on.")
            .RequireRateLimiting(Limits.Streams);
    }

    private static async Task<Ok<IReadOnlyList<SessionDocument>>> ListAsync(
        BenchService service, SessionBook book, int? limit, CancellationToken cancellationToken)
    {
        var most = limit ?? 50;
        if (most is < 1 or > MostListed)
        {
            throw new BenchException($"limit takes 1 to {MostListed}.");
        }

        var stored = await book.ListAsync(cancellationToken);
        return Results.Ok<IReadOnlyList<SessionDocument>>(
        [
            .. stored.Reverse().Take(most).Select(s => service.Find(s.Session.Session.Id) is { } here
                ? SessionJson.Of(here)
                : SessionJson.Of(s.Session, null, null, null)),
        ]);
    }

    private static async Task<CreatedAtRoute<SessionDocument>> BeginAsync(
        SessionRequestDocument asked,
        BenchService service, HttpContext context, DataPlace place, CancellationToken cancellationToken)
    {
        var terms = SessionRequestJson.Terms(asked, context.NameOfUser());
        var session = asked.Purpose switch
        {
            SessionPurpose.Strip => await BeginStripAsync(asked, terms, service, place.Folder, cancellationToken),
            SessionPurpose.Reference => await service.BeginAsync(
                terms, (desk, t, seat, stop) => desk.ReadAsync(SessionRequestJson.Reference(asked), t, seat, stop), cancellationToken),
            SessionPurpose.Recheck => await service.BeginAsync(
                terms, (desk, t, seat, stop) => desk.ReadAsync(SessionRequestJson.Recheck(asked), t, seat, stop), cancellationToken),
            SessionPurpose.Check => await service.BeginAsync(
                terms, (desk, t, seat, stop) => desk.ReadAsync(SessionRequestJson.Check(asked), t, seat, stop), cancellationToken),
            SessionPurpose.Repeatability => await service.BeginAsync(
                terms, (desk, t, seat, stop) => desk.ReadAsync(SessionRequestJson.Repeatability(asked), t, seat, stop), cancellationToken),
            _ => throw new BenchException("The purpose is one of strip, reference, recheck, check, repeatability."),
        };
        return Results.CreatedAtRoute(SessionJson.Of(session), Shown, new RouteValueDictionary { ["id"] = session.Session.Id });
    }

    private static Task<LiveSession> BeginStripAsync(
        SessionRequestDocument asked, LiveTerms terms, BenchService service, string dataFolder, CancellationToken cancellationToken)
    {
        var request = SessionRequestJson.Strip(asked);
        request = request with { RequireCheck = request.RequireCheck ?? Settings.Of(dataFolder).RequireCheck };
        return service.BeginAsync(terms, (desk, t, seat, stop) => desk.ReadAsync(request, t, seat, stop), cancellationToken);
    }

    private static async Task<Results<Ok<SessionDocument>, ProblemHttpResult>> GetAsync(
        Guid id, BenchService service, SessionBook book, AcquireStore store, CancellationToken cancellationToken) =>
        service.Find(id) is { } here ? Results.Ok(SessionJson.Of(here))
        : await StoredAsync(id, book, store, cancellationToken) is { } stored ? Results.Ok(stored)
        : None(id);

    private static async Task<Results<Ok<SessionDocument>, ProblemHttpResult>> DoAsync(
        Guid id,
        SessionCommandDocument given, BenchService service, SessionBook book, AcquireStore store, CancellationToken cancellationToken)
    {
        if (service.Find(id) is not { } session)
        {
            return await StoredAsync(id, book, store, cancellationToken) is { } stored
                ? Stale("It is not being read now. Go on with it first, where it was broken off.", stored, [])
                : None(id);
        }

        var command = CommandWords.Parse(given);
        if (given.Sequence is null && command is not BenchCommand.Cancel)
        {
            throw new BenchException("Name the sequence that you looked at, as the session gives it: \"sequence\".");
        }

        var fate = await session.DoAsync(command, given.Sequence, cancellationToken);
        return fate.Done
            ? Results.Ok(SessionJson.Of(session, fate.State))
            : Stale(
                fate.State.IsOver
                    ? "It is over."
                    : "It has changed since what you saw, and nothing was done. Look at it as it is now, and say again what you want.",
                SessionJson.Of(session, fate.State),
                fate.Since.Select(e => SessionJson.Of(session, e)));
    }

    private static async Task<Results<Ok<SessionDocument>, ProblemHttpResult>> ResumeAsync(
        Guid id, SessionResumeDocument? asked, BenchService service, AcquireStore store, CancellationToken cancellationToken)
    {
        if (await store.FindSessionAsync(id, cancellationToken) is null)
        {
            return None(id);
        }

        var terms = SessionRequestJson.Terms(
            new SessionRequestDocument { Purpose = SessionPurpose.Strip, KeepAfter = asked?.KeepAfter, Program = asked?.Program }, "");
        return Results.Ok(SessionJson.Of(await service.ResumeAsync(id.ToString("N"), terms.KeepAfter, terms.Program, cancellationToken)));
    }

    private static async Task<Results<ServerSentEventsResult<SessionEventDocument>, ProblemHttpResult>> EventsAsync(
        Guid id,
        [FromHeader(Name = "Last-Event-ID")] string? lastEventId,
        BenchService service,
        SessionBook book,
        AcquireStore store,
        IHostApplicationLifetime life,
        CancellationToken cancellationToken)
    {
        if (service.Find(id) is { } session)
        {
            return Results.ServerSentEvents(FollowAsync(session, After(lastEventId), life.ApplicationStopping, cancellationToken));
        }

        return await StoredAsync(id, book, store, cancellationToken) is { } stored
            ? Results.ServerSentEvents(Once(stored))
            : None(id);
    }

    /// <summary>Ends with the session, with the watcher or with the service, whichever comes first.</summary>
    private static async IAsyncEnumerable<SseItem<SessionEventDocument>> FollowAsync(
        LiveSession session, int after, CancellationToken stopping, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stopping, cancellationToken);
        await using var events = session.Events.FollowAsync(after, either.Token).GetAsyncEnumerator(either.Token);
        while (await NextAsync(events))
        {
            var happened = events.Current;

            // What only tells of the link carries no number: a watcher who comes back with the last one misses nothing of the session.
            yield return new SseItem<SessionEventDocument>(
                SessionJson.Of(session, happened), happened.State.IsOver ? "over" : happened.Moved ? "session" : "told")
            {
                EventId = happened.Moved ? happened.Sequence.ToString(CultureInfo.InvariantCulture) : null,
                ReconnectionInterval = TimeSpan.FromMilliseconds(500),
            };
        }
    }

    private static async ValueTask<bool> NextAsync(IAsyncEnumerator<LiveEvent> events)
    {
        try
        {
            return await events.MoveNextAsync();
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }

    private static async IAsyncEnumerable<SseItem<SessionEventDocument>> Once(SessionDocument stored)
    {
        await Task.CompletedTask;
        yield return new SseItem<SessionEventDocument>(new SessionEventDocument(stored.Sequence, [], stored), "over")
        {
            EventId = stored.Sequence.ToString(CultureInfo.InvariantCulture),
        };
    }

    private static int After(string? lastEventId) => lastEventId is null ? 0
        : int.TryParse(lastEventId, NumberStyles.None, CultureInfo.InvariantCulture, out var sequence) ? sequence
        : throw new BenchException("Last-Event-ID is the id of the last event that came, a number.");

    private static async Task<SessionDocument?> StoredAsync(
        Guid id, SessionBook book, AcquireStore store, CancellationToken cancellationToken)
    {
        if (await store.FindSessionAsync(id, cancellationToken) is not { } stored)
        {
            return null;
        }

        var progress = await book.ProgressAsync(stored.Session, cancellationToken);
        var plan = await store.FindPlanAsync(id, cancellationToken);
        return SessionJson.Of(stored, plan, progress, await store.StripOfSessionAsync(id, cancellationToken));
    }

    private static ProblemHttpResult None(Guid id) => Results.Problem(
        $"There is no session {id}.", statusCode: StatusCodes.Status404NotFound, title: "There is no such record.");

    private static ProblemHttpResult Stale(string detail, SessionDocument now, IEnumerable<SessionEventDocument> since) => Results.Problem(
        detail,
        statusCode: StatusCodes.Status409Conflict,
        title: "The session is not as you saw it.",
        extensions: new Dictionary<string, object?> { ["session"] = now, ["since"] = since.ToList() });
}

/// <summary>How a session is gone on with.</summary>
/// <param name="KeepAfter">As for a session that begins.</param>
/// <param name="Program">As for a session that begins.</param>
internal sealed record SessionResumeDocument(double? KeepAfter, string? Program);

/// <summary>The words of commands over HTTP.</summary>
internal static class CommandWords
{
    private static readonly ImmutableArray<(string Word, Func<string?, BenchCommand> Make)> Words =
    [
        ("undo", _ => new BenchCommand.Undo()),
        ("readPatchAgain", _ => new BenchCommand.ReadPatchAgain()),
        ("leaveOutRead", reason => new BenchCommand.LeaveOutRead(Reason(reason))),
        ("leaveOutPatch", reason => new BenchCommand.LeaveOutPatch(Reason(reason))),
        ("yes", _ => new BenchCommand.Yes()),
        ("no", _ => new BenchCommand.No()),
        ("keep", _ => new BenchCommand.Keep()),
        ("cancel", _ => new BenchCommand.Cancel()),
        ("trigger", _ => new BenchCommand.Trigger()),
    ];

    /// <exception cref="BenchException">There is no such command, or it lacks its reason.</exception>
    public static BenchCommand Parse(SessionCommandDocument given) =>
        Words.FirstOrDefault(w => w.Word == given.Command).Make is { } make
            ? make(given.Reason)
            : throw new BenchException($"'{given.Command}' is no command; there are {Numbers.Names([.. Words.Select(w => w.Word)])}.");

    public static SessionCommandDocument Of(BenchCommand command, int? sequence) => command switch
    {
        BenchCommand.LeaveOutRead { Reason: var why } => new("leaveOutRead", sequence, why),
        BenchCommand.LeaveOutPatch { Reason: var why } => new("leaveOutPatch", sequence, why),
        _ => new(
            Words.Where(w => !w.Word.StartsWith("leaveOut", StringComparison.Ordinal))
                .First(w => w.Make(null).GetType() == command.GetType()).Word,
            sequence,
            null),
    };

    private static string Reason(string? reason) => reason?.Trim() is { Length: > 0 and <= 500 } why && !why.Any(char.IsControl)
        ? why
        : throw new BenchException("Say why it is left out, in a line of up to 500 letters: \"reason\".");
}
