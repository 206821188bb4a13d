using System.ComponentModel;
using Acquire.Bench.Lots;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Mvc;

namespace Acquire.Web.Api;

/// <summary>The change from one lot to the next.</summary>
internal static class CrossoverRoutes
{
    public static void MapCrossovers(this RouteGroupBuilder api)
    {
        var lots = api.MapGroup("/lots/{code}/crossover").WithTags("lots");
        lots.MapGet("", LookAsync).Reads(
            "compareLots", "Strips of an old lot and of this one that were processed together, and what they propose for the aims.");
        lots.MapPost("", AcceptAsync).Writes(
            "acceptCrossover",
            "Compare with pairs of your own, and adjust this lot's aims where a reason is given.", CrossoverBody.Example);
    }

    private static async Task<CrossoverDocument> LookAsync(
        string code,
        [FromQuery, Description("Code number of the old lot.")] string from,
        Caller caller,
        LotCrossover crossover,
        CancellationToken cancellationToken) =>
        CrossoverJson.Of(await crossover.RunAsync(new CrossoverRequest(from, code, [], caller.Name), cancellationToken));

    private static async Task<CrossoverDocument> AcceptAsync(
        string code, CrossoverBody body, Caller caller, LotCrossover crossover, CancellationToken cancellationToken) =>
        CrossoverJson.Of(await crossover.RunAsync(
            new CrossoverRequest(
                body.From, code, [.. Given.Items(body.Pairs, "pairs").Select(p => (p.Old, p.New))], caller.Name, body.AcceptedFor),
            cancellationToken));
}

/// <summary>The lot that was in use before, and what is to be made of the comparison.</summary>
internal sealed record CrossoverBody
{
    public static CrossoverBody Example { get; } = new()
    {
        From = "2417",
        Pairs = [new PairBody { Old = "3f2a", New = "9c41" }],
        AcceptedFor = "three pairs on three evenings agree",
    };

    /// <summary>Code number of the old lot.</summary>
    public required string From { get; init; }

    /// <summary>Pairs beside those that strips name themselves.</summary>
    public IReadOnlyList<PairBody?>? Pairs { get; init; }

    /// <summary>Why the proposal is accepted; where it is not given nothing changes.</summary>
    public string? AcceptedFor { get; init; }
}

/// <summary>Two strips that were processed together, by id or a part of it.</summary>
internal sealed record PairBody
{
    public required string Old { get; init; }
    public required string New { get; init; }
}
