using System.ComponentModel;
using Acquire.Bench.Books;
using Acquire.Bench.Processes;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>Mixes, and the bottles and tanks that they are kept in.</summary>
internal static class SolutionRoutes
{
    private const string Care = " Gloves; the product's safety data sheet rules.";

    public static void MapSolutions(this RouteGroupBuilder api)
    {
        var books = api.MapGroup("").WithTags("books");
        books.MapGet("/solutions", MixesAsync).Reads("listSolutions", "The mixes, each with its bottles.");
        books.MapPost("/solutions", MixAsync).Writes("enterMix", "Enter a mix." + Care, MixBody.Example);
        books.MapGet("/solutions/{name}", ShowMixAsync).Reads("showSolution", "A mix and its bottles.");
        books.MapGet("/bottles", BottlesAsync).Reads("listBottles", "The bottles in use: age, time open, film, fill.");
        books.MapPost("/bottles", FillAsync).Writes("fillBottle", "Enter a bottle that was filled." + Care, FillBody.Example);
        books.MapGet("/bottles/{name}", ShowBottleAsync).Reads("showBottle", "A bottle and everything that happened to it.");
        books.MapPost("/bottles/{name}/events", HappenAsync)
            .Writes(
                "enterBottleEvent",
                "Enter that a bottle was opened, topped up, poured, stored anew or discarded." + Care,
                BottleBody.Example);
    }

    private static async Task<PageDocument<MixDocument>> MixesAsync(
        [AsParameters] PageQuery page, BookViews views, CancellationToken cancellationToken) =>
        Paging.Of(page, await views.MixesAsync(cancellationToken), m => m.Mix.Id.ToString("N"), BookJson.Of);

    private static Task<Created<EnteredDocument>> MixAsync(
        MixBody body, Caller caller, ProcessLibrary processes, DarkroomBooks books, CancellationToken cancellationToken) =>
        books.AnswerAsync(
            new MixRequest(
                body.Name,
                KindWords.Of<SolutionKind>(body.Kind ?? "developer"),
                Amounts.Volume(body.Volume),
                body.Process is { } key ? processes.Get(key).Key : null,
                body.Concentrate),
            caller.Enters(body.At, body.Note),
            cancellationToken);

    private static async Task<MixBottlesDocument> ShowMixAsync(string name, BookViews views, CancellationToken cancellationToken) =>
        BookJson.WithBottles(await views.MixAsync(name, cancellationToken));

    private static async Task<PageDocument<BottleDocument>> BottlesAsync(
        [FromQuery, Description("Those out of use too.")] bool? all,
        [AsParameters] PageQuery page,
        BookViews views,
        CancellationToken cancellationToken) =>
        Paging.Of(page, await views.BottlesAsync(all ?? false, cancellationToken), b => b.Bottle.Id.ToString("N"), BookJson.Of);

    private static Task<Created<EnteredDocument>> FillAsync(
        FillBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new FillRequest(body.Name)
        {
            Solution = body.Solution,
            Volume = body.Volume is { } text ? Amounts.Volume(text) : null,
            Storage = body.Storage?.Of() ?? new BottleStorage(),
            IsFull = body.Full ?? false,
        },
        caller.Enters(body.At, body.Note),
        cancellationToken);

    private static async Task<BottleHistoryDocument> ShowBottleAsync(
        string name,
        [FromQuery, Description("As it was at a time, such as \"2026-11-24 19:30\".")] string? at,
        BookViews views,
        CancellationToken cancellationToken) => BookJson.Of(await views.BottleAsync(name, at, cancellationToken));

    private static Task<Created<EnteredDocument>> HappenAsync(
        string name, BottleBody body, Caller caller, DarkroomBooks books, CancellationToken cancellationToken) => books.AnswerAsync(
        new BottleRequest(name, body.Kind)
        {
            Volume = body.Volume is { } text ? Amounts.Volume(text) : null,
            Storage = body.Storage?.Of(),
            Reason = body.Reason,
        },
        caller.Enters(body.At, body.Note),
        cancellationToken);
}

/// <summary>A mix to enter.</summary>
internal sealed record MixBody
{
    public static MixBody Example { get; } = new() { Name = "dev12", Volume = "1L", Process = "c41", Concentrate = "0912" };

    public required string Name { get; init; }

    /// <summary>How much was mixed, with its unit, such as 1L or 500ml.</summary>
    public required string Volume { get; init; }

    /// <summary>What it does, such as bleach; developer when not given.</summary>
    public string? Kind { get; init; }

    /// <summary>Key or name of the process sheet; that of the last mix when not given.</summary>
    public string? Process { get; init; }

    /// <summary>Lot of the concentrate, as printed on it.</summary>
    public string? Concentrate { get; init; }

    /// <summary>When, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}

/// <summary>A bottle that was filled.</summary>
internal sealed record FillBody
{
    public static FillBody Example { get; } = new()
    {
        Name = "D7", Solution = "dev12", Volume = "500ml", Storage = new StorageBody { Container = "glass", Gas = "nitrogen" },
    };

    /// <summary>Your name for the bottle, best a short code.</summary>
    public required string Name { get; init; }

    /// <summary>The mix; the last one when not given.</summary>
    public string? Solution { get; init; }

    /// <summary>How much was filled in, with its unit; what is left of the mix when not given.</summary>
    public string? Volume { get; init; }

    public StorageBody? Storage { get; init; }

    /// <summary>Whether it holds just what was filled in.</summary>
    public bool? Full { get; init; }

    /// <summary>When, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}

/// <summary>How a solution is kept; what is not named is not known, or stays as it was.</summary>
internal sealed record StorageBody
{
    /// <summary>What it is kept in, such as glass or PET.</summary>
    public string? Container { get; init; }

    /// <summary>How much the container holds brim-full, with its unit.</summary>
    public string? Holds { get; init; }

    /// <summary>The gas above the solution, such as air, nitrogen or butane (flammable).</summary>
    public string? Gas { get; init; }

    /// <summary>Storage temperature in °C.</summary>
    public double? Temperature { get; init; }

    /// <exception cref="BenchException">The volume is none.</exception>
    public BottleStorage Of() => new(Container, Holds is { } text ? Amounts.Volume(text) : null, Gas, Temperature);
}

/// <summary>Something that happened to a bottle.</summary>
internal sealed record BottleBody
{
    public static BottleBody Example { get; } = new() { Kind = BottleEventKind.Poured, Volume = "100ml" };

    public required BottleEventKind Kind { get; init; }

    /// <summary>How much, with its unit, where solution was poured or added.</summary>
    public string? Volume { get; init; }

    /// <summary>What is new about how it is kept.</summary>
    public StorageBody? Storage { get; init; }

    /// <summary>Why, where it was discarded.</summary>
    public string? Reason { get; init; }

    /// <summary>When, if not now.</summary>
    public string? At { get; init; }

    public string? Note { get; init; }
}
