using System.Text.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>
/// A process sheet as JSON, in the snapshot of the database and in JSON Lines. <c>layout</c> is the usual strip layout; <c>layouts</c>
/// is there when there are several or when more is known of one than its patches.
/// </summary>
internal sealed record SheetDocument(
    string Key,
    string Name,
    string Status,
    LayoutDocument Layout,
    ImmutableArray<ParameterDocument> Parameters,
    string? Note,
    string? Geometry = null,
    ImmutableArray<SheetLayoutDocument>? Layouts = null)
{
    public static SheetDocument Of(ProcessSheet sheet) => new(
        sheet.Key,
        sheet.Name,
        Words<DensityStatus>.Of(sheet.Status),
        LayoutDocument.Of(sheet.Layout),
        [.. sheet.Parameters.Select(ParameterDocument.Of)],
        sheet.Note,
        sheet.Geometry is DensityGeometry.Transmission ? null : Words<DensityGeometry>.Of(sheet.Geometry),
        IsPlain(sheet) ? null : [.. sheet.Layouts.Select(SheetLayoutDocument.Of)]);

    public ProcessSheet ToSheet() => new(
        Key,
        Name,
        Words<DensityStatus>.Parse(Status),
        Layouts is { } layouts ? [.. layouts.Select(l => l.ToLayout())] : [SheetLayout.Of(Layout.ToLayout())],
        [.. Parameters.Select(p => p.ToParameter())],
        Note)
    {
        Geometry = Geometry is { } word ? Words<DensityGeometry>.Parse(word) : DensityGeometry.Transmission,
    };

    private static bool IsPlain(ProcessSheet sheet) =>
        sheet.Layouts is [{ Key: SheetLayout.UsualKey, Scale: ExposureScale.Relative, Note: null } only]
        && only.Patches.All(p => p is { LogH: null, Role: PatchRole.Judged });
}

/// <summary>A process sheet as it is kept with the strips that were judged by it.</summary>
public static class SheetSnapshot
{
    /// <summary>The sheet in one line, the same for equal sheets.</summary>
    public static string Write(ProcessSheet sheet) => JsonSerializer.Serialize(SheetDocument.Of(sheet), StoreJson.Options);

    /// <summary>The sheet again.</summary>
    public static ProcessSheet Read(string text) =>
        JsonSerializer.Deserialize<SheetDocument>(text, StoreJson.Options)?.ToSheet()
            ?? throw new FormatException("null is no process sheet");
}

/// <summary>A strip layout as JSON.</summary>
internal sealed record LayoutDocument(string Name, ImmutableArray<PatchDocument> Patches)
{
    public static LayoutDocument Of(StripLayout layout) =>
        new(layout.Name, [.. layout.Patches.Select(p => new PatchDocument(p.Key, p.Name))]);

    public StripLayout ToLayout() => new(Name, [.. Patches.Select(p => new Patch(p.Key, p.Name))]);
}

/// <summary>A strip layout of a process sheet as JSON, with what the sheet knows of its exposures.</summary>
internal sealed record SheetLayoutDocument(string Key, string Name, string Exposure, string? Note, ImmutableArray<PatchDocument> Patches)
{
    public static SheetLayoutDocument Of(SheetLayout layout) => new(
        layout.Key,
        layout.Strip.Name,
        Words<ExposureScale>.Of(layout.Scale),
        layout.Note,
        [.. layout.Patches.Select(p => new PatchDocument(
            p.Patch.Key, p.Patch.Name, p.LogH, p.Role is PatchRole.Judged ? null : Words<PatchRole>.Of(p.Role)))]);

    public SheetLayout ToLayout() => new(
        Key,
        Name,
        [.. Patches.Select(p => new LayoutPatch(
            new Patch(p.Key, p.Name), p.LogH, p.Role is { } role ? Words<PatchRole>.Parse(role) : PatchRole.Judged))],
        Words<ExposureScale>.Parse(Exposure),
        Note);
}

/// <summary>A patch as JSON.</summary>
internal sealed record PatchDocument(string Key, string Name, double? LogH = null, string? Role = null);
