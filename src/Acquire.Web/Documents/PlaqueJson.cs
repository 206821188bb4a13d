using Acquire.Bench.Trust;

namespace Acquire.Web.Documents;

/// <summary>Plaques for other programs.</summary>
internal static class PlaqueJson
{
    public static ListedPlaqueDocument Of(ListedPlaque listed) => new()
    {
        Name = listed.Plaque.Name,
        Tolerance = listed.Plaque.Tolerance,
        DueDays = listed.Plaque.DueDays,
        Expires = listed.Plaque.Expires,
        LastCheck = listed.Last?.Provenance.At,
        LastPassed = listed.Last?.Passed,
        DueAt = listed.Last?.DueAt,
    };

    public static PlaqueDocument Of(Plaque plaque) => new()
    {
        Name = plaque.Name,
        Tolerance = plaque.Tolerance,
        DueDays = plaque.DueDays,
        Expires = plaque.Expires,
        Note = plaque.Note,
        Patches = plaque.Patches.Select(p => new PlaquePatchDocument
        {
            Key = p.Patch.Key,
            Certified = plaque.Channels.ToDictionary(c => c.Word(), c => p.Certified[c]!.Value.Value),
            Uncertainty = p.Uncertainty,
        }),
    };
}

internal sealed record ListedPlaqueDocument
{
    public required string Name { get; init; }
    public required double Tolerance { get; init; }
    public required int DueDays { get; init; }
    public required DateOnly? Expires { get; init; }
    public required DateTimeOffset? LastCheck { get; init; }
    public required bool? LastPassed { get; init; }
    public required DateTimeOffset? DueAt { get; init; }
}

internal sealed record PlaqueDocument
{
    public required string Name { get; init; }
    public required double Tolerance { get; init; }
    public required int DueDays { get; init; }
    public required DateOnly? Expires { get; init; }
    public required string? Note { get; init; }
    public required IEnumerable<PlaquePatchDocument> Patches { get; init; }
}

internal sealed record PlaquePatchDocument
{
    public required string Key { get; init; }
    public required Dictionary<string, decimal> Certified { get; init; }
    public required double Uncertainty { get; init; }
}
