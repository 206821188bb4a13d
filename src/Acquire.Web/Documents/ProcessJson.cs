namespace Acquire.Web.Documents;

/// <summary>A process sheet of a list, for other programs.</summary>
internal static class ProcessJson
{
    /// <param name="own">Whether it is the user's own, rather than one that comes with the program.</param>
    public static ListedProcessDocument Of(ProcessSheet sheet, bool own) => new()
    {
        Key = sheet.Key,
        Name = sheet.Name,
        Status = sheet.Status,
        Geometry = sheet.Geometry,
        Own = own,
        HasLimits = sheet.Parameters.Any(p => p.HasLimits),
        Layouts = sheet.Layouts.Select(
            l => new ListedProcessLayoutDocument { Key = l.Key, Name = l.Strip.Name, Patches = l.Patches.Select(p => p.Patch.Key) }),
    };
}

internal sealed record ListedProcessDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required DensityStatus Status { get; init; }
    public required DensityGeometry Geometry { get; init; }
    public required bool Own { get; init; }
    public required bool HasLimits { get; init; }
    public required IEnumerable<ListedProcessLayoutDocument> Layouts { get; init; }
}

internal sealed record ListedProcessLayoutDocument
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required IEnumerable<string> Patches { get; init; }
}
