using System.ComponentModel;
using Acquire.Bench.Books;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Strips in stock.</summary>
internal static class StockRoutes
{
    public static void MapStock(this RouteGroupBuilder api)
    {
        var stock = api.MapGroup("/stock").WithTags("books");
        stock.MapGet("", ListAsync).Reads("listStock", "The strips in stock, lot by lot, with their expiry.");
        stock.MapPost("", MoveAsync)
            .Writes("moveStock", "Count strips in or out. Thaw strips in their closed pack.", StockBody.Example);
    }

    private static async Task<PageDocument<StockDocument>> ListAsync(
        [FromQuery, Description("Only this lot.")] string? lot,
        [FromQuery, Description("As it was at a time, such as \"2026-11-24 19:30\".")] string? at,
        [AsParameters] PageQuery page,
        BookViews views,
        CancellationToken cancellationToken) =>
        Paging.Of(page, await views.StocksAsync(lot, at, cancellationToken), s => s.Lot.Code, BookJson.Of);

    private static Task<Created<EnteredDocument>> MoveAsync(
        StockBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new StockRequest(body.Lot, body.Kind, body.Strips ?? 1), caller.Enters(body.At, body.Note), cancellationToken);
}

/// <summary>Strips that were counted in, taken out of the cold, returned, used or spoiled.</summary>
internal sealed record StockBody
{
    public static StockBody Example { get; } = new() { Lot = "2417", Kind = StockMoveKind.Added, Strips = 20 };

    /// <summary>The lot; the one moved last when not given.</summary>
    public string? Lot { get; init; }

    public required StockMoveKind Kind { get; init; }

    /// <summary>How many; 1 when not given.</summary>
    public int? Strips { get; init; }

    /// <summary>When, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}
