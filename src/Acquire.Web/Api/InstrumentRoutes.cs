using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using Acquire.Bench.Instruments;
using Acquire.Bench.Service;
using Acquire.Instruments.ProfileFiles;
using Acquire.Web.Documents;
using Acquire.Web.Security;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Hosting;
using Results = Microsoft.AspNetCore.Http.TypedResults;

namespace Acquire.Web.Api;

/// <summary>The instruments of the house, and what is known of each at this moment.</summary>
internal static class InstrumentRoutes
{
    /// <summary>The route that shows one.</summary>
    private const string Shown = "showInstrument";

    public static void MapInstruments(this RouteGroupBuilder api)
    {
        var instruments = api.MapGroup("/instruments").WithTags("instruments");
        instruments.MapGet("", ListAsync).Reads("listInstruments", "The instruments, with the state of each link as it is known now.");
        instruments.MapPost("", AddAsync).Writes(
            "addInstrument",
            "Adds an instrument; the service begins to listen to it at once.",
            new { Name = "class densitometer", Port = "/dev/serial/by-id/desk", Profile = "labelled-line" });
        instruments.MapGet("/events", EventsAsync)
            .Reads("watchInstruments", "The same whenever it is another, as server-sent events; each is whole, so none is needed twice.")
            .RequireRateLimiting(Limits.Streams);
        instruments.MapGet("/{name}", GetAsync)
            .Reads(Shown, "An instrument with the history of what was said of it.");
        instruments.MapPatch("/{name}", SetAsync).Writes(
            "setInstrument", "Says something else of an instrument; an empty text takes it away.", new { Notes = "beside the dip tank" });
        instruments.MapPost("/{name}/retire", RetireAsync)
            .Writes("retireInstrument", "Takes an instrument out of use, or back into it.", new { Reason = "the lamp is gone" });
        instruments.MapGet("/{name}/loose", LooseAsync)
            .Reads("listLooseReadings", "The readings that came while no session ran, the oldest first.");
    }

    private static async Task<Ok<IReadOnlyList<InstrumentDocument>>> ListAsync(
        InstrumentBook book, BenchService service, CancellationToken cancellationToken) =>
        Results.Ok(await AllAsync(book, service, cancellationToken));

    private static async Task<Ok<InstrumentDocument>> GetAsync(
        string name, InstrumentBook book, BenchService service, CancellationToken cancellationToken)
    {
        var history = await book.HistoryAsync(name, cancellationToken);
        return Results.Ok(LiveInstrumentJson.Of(history[^1], Station(service, history[^1].Name), history));
    }

    private static async Task<CreatedAtRoute<InstrumentDocument>> AddAsync(
        InstrumentAddDocument asked,
        InstrumentBook book,
        BenchService service,
        ProfileLibrary profiles,
        HttpContext context,
        CancellationToken cancellationToken)
    {
        var added = await book.AddAsync(
            asked.Name, Details(asked.Said, profiles), context.NameOfUser(), asked.Reason, cancellationToken);
        await service.RefreshAsync(cancellationToken);
        var instrument = added.Instrument;
        return Results.CreatedAtRoute(
            LiveInstrumentJson.Of(instrument, Station(service, instrument.Name), [instrument]) with { Warning = added.Warning },
            Shown,
            new RouteValueDictionary { ["name"] = instrument.Name });
    }

    private static async Task<Ok<InstrumentDocument>> SetAsync(
        string name,
        InstrumentChangeDocument asked,
        InstrumentBook book,
        BenchService service,
        ProfileLibrary profiles,
        HttpContext context,
        CancellationToken cancellationToken)
    {
        var changed = await book.SetAsync(name, Details(asked, profiles), context.NameOfUser(), asked.Reason, cancellationToken);
        return Results.Ok(await AfterAsync(changed, book, service, cancellationToken));
    }

    private static async Task<Ok<InstrumentDocument>> RetireAsync(
        string name,
        InstrumentRetireDocument asked,
        InstrumentBook book,
        BenchService service,
        HttpContext context,
        CancellationToken cancellationToken)
    {
        var changed = await book.RetireAsync(name, asked.Back ?? false, context.NameOfUser(), asked.Reason, cancellationToken);
        return Results.Ok(await AfterAsync(changed, book, service, cancellationToken));
    }

    private static async Task<Ok<IReadOnlyList<LooseDocument>>> LooseAsync(
        string name, InstrumentBook book, BenchService service, CancellationToken cancellationToken)
    {
        var instrument = await book.GetAsync(name, cancellationToken);
        return Results.Ok<IReadOnlyList<LooseDocument>>(
            [.. (Station(service, instrument.Name)?.Loose ?? []).Select(LiveInstrumentJson.Of)]);
    }

    private static ServerSentEventsResult<IReadOnlyList<InstrumentDocument>> EventsAsync(
        InstrumentBook book, BenchService service, IHostApplicationLifetime life, CancellationToken cancellationToken) =>
        Results.ServerSentEvents(FollowAsync(book, service, life.ApplicationStopping, cancellationToken));

    private static async IAsyncEnumerable<SseItem<IReadOnlyList<InstrumentDocument>>> FollowAsync(
        InstrumentBook book, BenchService service, CancellationToken stopping, [EnumeratorCancellation] CancellationToken cancellationToken)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stopping, cancellationToken);

        // A watcher who goes completes what they waited for, so that nothing of them stays with a station that is silent for long.
        var gone = Task.Delay(Timeout.InfiniteTimeSpan, TimeProvider.System, either.Token);
        while (!gone.IsCompleted)
        {
            var changed = Task.WhenAny([gone, service.Changed, .. service.Stations.Select(s => s.Changed)]);
            var now = await AllAsync(book, service, CancellationToken.None);
            yield return new SseItem<IReadOnlyList<InstrumentDocument>>(now, "instruments");
            _ = await changed;
        }
    }

    private static async Task<IReadOnlyList<InstrumentDocument>> AllAsync(
        InstrumentBook book, BenchService service, CancellationToken cancellationToken) =>
        [.. (await book.ListAsync(cancellationToken)).Select(i => LiveInstrumentJson.Of(i, Station(service, i.Name), null))];

    private static async Task<InstrumentDocument> AfterAsync(
        ChangedInstrument changed, InstrumentBook book, BenchService service, CancellationToken cancellationToken)
    {
        await service.RefreshAsync(cancellationToken);
        var history = await book.HistoryAsync(changed.Instrument.Name, cancellationToken);
        return LiveInstrumentJson.Of(
            changed.Instrument, Station(service, changed.Instrument.Name), history) with { Warning = changed.Warning };
    }

    private static InstrumentStation? Station(BenchService service, string name) =>
        service.Stations.FirstOrDefault(s => Keys.Same(s.Setup.Name, name));

    private static InstrumentDetails Details(InstrumentChangeDocument said, ProfileLibrary profiles) => new(
        said.Port,
        said.Profile is { } profile ? profiles.Named(profile).Name : null,
        said.Baud,
        said.DisplayStep,
        said.Filters,
        said.SerialNumber,
        said.Notes);
}
