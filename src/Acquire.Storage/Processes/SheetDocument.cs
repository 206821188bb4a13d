using System.Collections.Immutable;
using Acquire.Domain.Densitometry;
using Acquire.Domain.Processes;
using Acquire.Domain.Strips;
using Acquire.Storage.Rows;

namespace Acquire.Storage.Processes;

/// <summary>A process sheet as JSON, in the snapshot of the database and in JSON Lines.</summary>
internal sealed record SheetDocument(
    string Key, string Name, string Status, LayoutDocument Layout, ImmutableArray<ParameterDocument> Parameters, string? Note)
{
    public static SheetDocument Of(ProcessSheet sheet) => new(
        sheet.Key,
        sheet.Name,
        Words<DensityStatus>.Of(sheet.Status),
        LayoutDocument.Of(sheet.Layout),
        [.. sheet.Parameters.Select(ParameterDocument.Of)],
        sheet.Note);

    public ProcessSheet ToSheet() => new(
        Key, Name, Words<DensityStatus>.Parse(Status), Layout.ToLayout(), [.. Parameters.Select(p => p.ToParameter())], Note);
}

/// <summary>A strip layout as JSON.</summary>
internal sealed record LayoutDocument(string Name, ImmutableArray<PatchDocument> Patches)
{
    public static LayoutDocument Of(StripLayout layout) => new(layout.Name, [.. layout.Patches.Select(p => new PatchDocument(p.Key, p.Name))]);

    public StripLayout ToLayout() => new(Name, [.. Patches.Select(p => new Patch(p.Key, p.Name))]);
}

/// <summary>A patch as JSON.</summary>
internal sealed record PatchDocument(string Key, string Name);
