using System.ComponentModel;
using Acquire.Bench.Books;
using Acquire.Bench.Processes;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Process lines: tanks and processors, and how they are run.</summary>
internal static class LineRoutes
{
    public static void MapLines(this RouteGroupBuilder api)
    {
        var lines = api.MapGroup("/lines").WithTags("books");
        lines.MapGet("", ListAsync).Reads("listLines", "The process lines and the method in force.");
        lines.MapPost("", AddAsync).Writes("addLine", "Add a process line.", LineBody.Example);
        lines.MapGet("/{name}", ShowAsync).Reads("showLine", "A process line and every change of its method.");
        lines.MapPost("/{name}/methods", ChangeAsync)
            .Writes("changeMethod", "Enter a change of method; what is not named stays as it was.", MethodBody.Example);
    }

    private static async Task<PageDocument<ProcessLineDocument>> ListAsync(
        [AsParameters] PageQuery page, BookViews views, CancellationToken cancellationToken) =>
        Paging.Of(page, await views.LinesAsync(cancellationToken), l => l.Line.Id.ToString("N"), BookJson.Of);

    private static Task<Created<EnteredDocument>> AddAsync(
        LineBody body, Caller caller, ProcessLibrary processes, DarkroomBooks books, CancellationToken cancellationToken) =>
        books.AnswerAsync(
            new LineRequest(
                body.Name,
                KindWords.Of<LineKind>(body.Kind ?? "other"),
                processes.Get(body.Process).Key,
                new LineMethodSaid(body.Agitation, body.Temperature, Amounts.Duration(body.Time))),
            caller.Enters(body.At, body.Note),
            cancellationToken);

    private static async Task<LineHistoryDocument> ShowAsync(
        string name,
        [FromQuery, Description("As it was at a time, such as \"2026-11-24 19:30\".")] string? at,
        BookViews views,
        CancellationToken cancellationToken) => BookJson.Of(await views.LineAsync(name, at, cancellationToken));

    private static Task<Created<EnteredDocument>> ChangeAsync(
        string name, MethodBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new MethodRequest(name, new LineMethodSaid(body.Agitation, body.Temperature, Amounts.Duration(body.Time))),
        caller.Enters(body.At, body.Note),
        cancellationToken);
}

/// <summary>A new line, and how it is run from then on.</summary>
internal sealed record LineBody
{
    public static LineBody Example { get; } = new()
    {
        Name = "dip tank",
        Process = "c41",
        Kind = "dip-tank",
        Agitation = "lift every 15 s",
        Temperature = 37.8,
        Time = "3:15",
    };

    public required string Name { get; init; }

    /// <summary>Key or name of the process sheet.</summary>
    public required string Process { get; init; }

    /// <summary>What it is, such as dip-tank; other when not given.</summary>
    public string? Kind { get; init; }

    /// <summary>How film or solution is moved.</summary>
    public string? Agitation { get; init; }

    /// <summary>Of the developer, in °C.</summary>
    public double? Temperature { get; init; }

    /// <summary>In the developer: minutes and seconds such as 3:15, or seconds such as 195.</summary>
    public string? Time { get; init; }

    /// <summary>Since when, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}

/// <summary>A change of method.</summary>
internal sealed record MethodBody
{
    public static MethodBody Example { get; } = new() { Temperature = 38.0 };

    /// <summary>How film or solution is moved.</summary>
    public string? Agitation { get; init; }

    /// <summary>Of the developer, in °C.</summary>
    public double? Temperature { get; init; }

    /// <summary>In the developer: minutes and seconds such as 3:15, or seconds such as 195.</summary>
    public string? Time { get; init; }

    /// <summary>Since when, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}
