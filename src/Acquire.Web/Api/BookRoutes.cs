using Acquire.Bench.Books;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Acquire.Web.Api;

/// <summary>Entries in the books: film that was processed, events, and entries taken back.</summary>
internal static class BookRoutes
{
    public static void MapBooks(this RouteGroupBuilder api)
    {
        var books = api.MapGroup("").WithTags("books");
        books.MapGet("/uses", UsesAsync).Reads("listUses", "Film that was processed.");
        books.MapPost("/uses", UseAsync).Writes("enterUse", "Enter film that was processed.", UseBody.Example);
        books.MapGet("/film-formats", Formats).Reads("listFilmFormats", "The film formats, their areas and where the numbers come from.");
        books.MapGet("/events", EventsAsync).Reads("listEvents", "The events that belong on the charts.");
        books.MapPost("/events", EventAsync).Writes("enterEvent", "Enter an event.", EventBody.Example);
        books.MapGet("/books", EntriesAsync).Reads("listEntries", "Every entry in the books, withdrawn ones too.");
        books.MapPost("/books/withdrawals", UndoAsync)
            .Writes("withdrawEntry", "Take an entry back: it stays, marked as withdrawn, and counts no more.", UndoBody.Example);
    }

    /// <summary>Enters something; what looks wrong is kept and told.</summary>
    public static async Task<Created<EnteredDocument>> AnswerAsync(
        this DarkroomBooks books, BookRequest request, EntryInput input, CancellationToken cancellationToken)
    {
        var entered = await books.EnterAsync(request, input, cancellationToken);
        return TypedResults.Created(
            "/api/v1/books",
            new EnteredDocument
            {
                Entries = entered.Entries.Select(e => BookJson.Of(entered.Books, e)),
                Taken = entered.Taken,
                Warnings = entered.Warnings,
            });
    }

    private static async Task<PageDocument<BookEntryDocument>> UsesAsync(
        [AsParameters] PageQuery page, BookViews views, CancellationToken cancellationToken) =>
        Of(page, await views.UsesAsync(cancellationToken));

    private static async Task<PageDocument<BookEntryDocument>> EventsAsync(
        [AsParameters] PageQuery page, BookViews views, CancellationToken cancellationToken) =>
        Of(page, await views.EventsAsync(all: false, cancellationToken));

    private static async Task<PageDocument<BookEntryDocument>> EntriesAsync(
        [AsParameters] PageQuery page, BookViews views, CancellationToken cancellationToken) =>
        Of(page, await views.EventsAsync(all: true, cancellationToken));

    private static PageDocument<BookEntryDocument> Of(PageQuery page, EntryView view) =>
        Paging.Of(page, view.Entries, e => e.Id.ToString("N"), e => BookJson.Of(view.Books, e));

    private static IEnumerable<FilmFormatDocument> Formats() => FilmFormat.All.Select(BookJson.Of);

    private static Task<Created<EnteredDocument>> UseAsync(
        UseBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new UseRequest([.. Given.Items(body.Films, "films").Select(Amounts.Films)])
        {
            Bottles = Given.Items(body.Bottles, "bottles"),
            Line = body.Line,
        },
        caller.Enters(body.At, body.Note),
        cancellationToken);

    private static Task<Created<EnteredDocument>> EventAsync(
        EventBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new EventRequest(body.Kind is { } kind ? KindWords.Of<BookEventKind>(kind) : null, body.Text ?? "", body.Line, body.Bottle),
        caller.Enters(body.At, body.Note),
        cancellationToken);

    private static Task<Created<EnteredDocument>> UndoAsync(
        UndoBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new UndoRequest(body.Entry, body.Reason ?? "entered by mistake"), caller.Enters(null, null), cancellationToken);
}

/// <summary>What was entered, and what follows from it.</summary>
internal sealed record EnteredDocument
{
    public required IEnumerable<BookEntryDocument> Entries { get; init; }

    /// <summary>What was taken because nothing was named, in sentences.</summary>
    public required IEnumerable<string> Taken { get; init; }

    /// <summary>What looks wrong about it; it is kept all the same.</summary>
    public required IEnumerable<string> Warnings { get; init; }
}

/// <summary>Film that was processed.</summary>
internal sealed record UseBody
{
    public static UseBody Example { get; } = new() { Films = ["2x135-36", "120"], Bottles = ["D7"], Line = "dip tank" };

    /// <summary>Films such as 2x135-36, 120 or 4x5, or an area such as 0.2m2.</summary>
    public required IReadOnlyList<string?> Films { get; init; }

    /// <summary>The bottles it went through; those used last when not given.</summary>
    public IReadOnlyList<string?>? Bottles { get; init; }

    /// <summary>The process line; the one used last when not given.</summary>
    public string? Line { get; init; }

    /// <summary>When, if not now: 19:30, "yesterday 19:30", -2h, 2026-11-24, "2026-11-24 19:30".</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}

/// <summary>Something that belongs on the charts.</summary>
internal sealed record EventBody
{
    public static EventBody Example { get; } = new() { Kind = "repair", Text = "pump bearing changed", Line = "bench-top machine" };

    /// <summary>The kind, such as repair or pause; another when not given.</summary>
    public string? Kind { get; init; }

    /// <summary>What happened; where it is not given, the kind says it.</summary>
    public string? Text { get; init; }

    /// <summary>The line it concerns.</summary>
    public string? Line { get; init; }

    /// <summary>The bottle it concerns.</summary>
    public string? Bottle { get; init; }

    /// <summary>When, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}

/// <summary>An entry to take back.</summary>
internal sealed record UndoBody
{
    public static UndoBody Example { get; } = new() { Reason = "entered twice" };

    /// <summary>The entry, by its id or the end of it; the last one when not given.</summary>
    public string? Entry { get; init; }

    /// <summary>Why.</summary>
    public string? Reason { get; init; }
}
