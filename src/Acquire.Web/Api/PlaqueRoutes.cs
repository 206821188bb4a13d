using Acquire.Bench.Trust;
using Acquire.Web.Documents;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Acquire.Web.Api;

/// <summary>Calibration plaques: certified densities, tolerance, how often to check.</summary>
internal static class PlaqueRoutes
{
    public static void MapPlaques(this RouteGroupBuilder api)
    {
        var plaques = api.MapGroup("/plaques").WithTags("trust");
        plaques.MapGet("", ListAsync).Reads("listPlaques", "The plaques, each with its last check.");
        plaques.MapPost("", AddAsync).Writes("addPlaque", "Add a plaque.", PlaqueBody.Example);
        plaques.MapGet("/{name}", ShowAsync).Reads("showPlaque", "A plaque and its certified values.");
    }

    private static async Task<PageDocument<ListedPlaqueDocument>> ListAsync(
        [AsParameters] PageQuery page, CheckBook book, CancellationToken cancellationToken) =>
        Paging.Of(page, await book.ListPlaquesAsync(cancellationToken), p => p.Plaque.Name, PlaqueJson.Of);

    private static async Task<Created<PlaqueDocument>> AddAsync(PlaqueBody body, CheckBook book, CancellationToken cancellationToken)
    {
        var plaque = await book.AddPlaqueAsync(body.Request(), cancellationToken);
        return TypedResults.Created(Location.Of("plaques", plaque.Name), PlaqueJson.Of(plaque));
    }

    private static async Task<PlaqueDocument> ShowAsync(string name, CheckBook book, CancellationToken cancellationToken) =>
        PlaqueJson.Of(await book.GetPlaqueAsync(name, cancellationToken));
}

/// <summary>A plaque with its certificate.</summary>
internal sealed record PlaqueBody
{
    public static PlaqueBody Example { get; } = new()
    {
        Name = "plaque 1",
        Patches = ["low 0.05 0.06 0.07 ± 0.01", "mid 0.72 0.74 0.75 ± 0.01", "high 1.90 1.92 1.95 ± 0.02"],
        DueDays = 30,
        Expires = "2027-06-30",
    };

    public required string Name { get; init; }

    /// <summary>A patch each, from thin to dense: "PATCH R G B ± U", with the certificate's expanded uncertainty behind the ±.</summary>
    public required IReadOnlyList<string?> Patches { get; init; }

    /// <summary>The channels of the densities in their order, such as visual; red, green, blue (and visual) when not given.</summary>
    public string? Channels { get; init; }

    /// <summary>How far a mean may lie from its certified density.</summary>
    public double? Tolerance { get; init; }

    /// <summary>Days after a check until the next is due.</summary>
    public int? DueDays { get; init; }

    /// <summary>Last day of the certificate, such as 2027-06-30.</summary>
    public string? Expires { get; init; }

    public string? Note { get; init; }

    public PlaqueRequest Request()
    {
        var usual = new PlaqueRequest(Name, Given.Items(Patches, "patches"));
        return usual with
        {
            Channels = Channels,
            Tolerance = Tolerance ?? usual.Tolerance,
            DueDays = DueDays ?? usual.DueDays,
            Expires = Expires,
            Note = Note,
        };
    }
}
