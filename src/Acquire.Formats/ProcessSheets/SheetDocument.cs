using Acquire.Formats.Json;

namespace Acquire.Formats.ProcessSheets;

/// <summary>
/// A process sheet as JSON: in its file, in the snapshot that strips are judged by, and in the lines of an export. What is made of it
/// passes through a <see cref="JsonFile"/> where there is one, so that all that cannot be is told; else the first such thing is thrown.
/// </summary>
internal sealed record SheetDocument(
    string Key,
    string Name,
    string Status,
    string? Geometry,
    LayoutDocument? Layout,
    ImmutableArray<LayoutDocument>? Layouts,
    ImmutableArray<ParameterDocument> Parameters,
    string? Note)
{
    public static SheetDocument Of(ProcessSheet sheet) => new(
        sheet.Key,
        sheet.Name,
        sheet.Status is DensityStatus.Visual ? "visual" : sheet.Status.ToString(),
        sheet.Geometry is DensityGeometry.Reflection ? "reflection" : null,
        sheet.Layouts is [var only] ? LayoutDocument.Of(only, withKey: only.Key != SheetLayout.UsualKey) : null,
        sheet.Layouts is [_] ? null : [.. sheet.Layouts.Select(l => LayoutDocument.Of(l, withKey: true))],
        [.. sheet.Parameters.Select(ParameterDocument.Of)],
        sheet.Note);

    /// <summary>The sheet; null when something of it cannot be, which the file then knows.</summary>
    public ProcessSheet? ToSheet(JsonFile? file)
    {
        var since = file?.Count;
        SheetLayout?[] layouts = Layout is { } only
            ? [only.ToLayout(file, "/layout")]
            : [.. (Layouts ?? []).Select((l, i) => l.ToLayout(file, $"/layouts/{i}"))];
        Parameter?[] parameters = [.. Parameters.Select((p, i) => p.ToParameter(file, $"/parameters/{i}"))];
        return file.Make("", since, () => new ProcessSheet(
            Key, Name, Words<DensityStatus>.ByLetters(Status), [.. layouts.Select(l => l!)], [.. parameters.Select(p => p!)], Note)
        {
            Geometry = Geometry is null ? DensityGeometry.Transmission : Words<DensityGeometry>.ByLetters(Geometry),
        });
    }
}

/// <summary>A strip layout, with what a sheet knows of its exposures.</summary>
internal sealed record LayoutDocument(string? Key, string Name, string? Exposure, string? Note, ImmutableArray<PatchDocument> Patches)
{
    public static LayoutDocument Of(StripLayout layout) =>
        new(null, layout.Name, null, null, [.. layout.Patches.Select(p => new PatchDocument(p.Key, p.Name))]);

    public static LayoutDocument Of(SheetLayout layout, bool withKey) => new(
        withKey ? layout.Key : null,
        layout.Strip.Name,
        layout.Scale is ExposureScale.LuxSeconds ? "lux seconds" : null,
        layout.Note,
        [.. layout.Patches.Select(p => new PatchDocument(p.Patch.Key, p.Patch.Name, p.LogH, p.Role is PatchRole.Curve ? "curve" : null))]);

    public StripLayout ToStripLayout() => new(Name, [.. Patches.Select(p => new Patch(p.Key, p.Name))]);

    public SheetLayout? ToLayout(JsonFile? file, string pointer)
    {
        var since = file?.Count;
        LayoutPatch?[] patches = [.. Patches.Select((p, i) => file.Make($"{pointer}/patches/{i}", p.ToPatch))];
        var scale = Exposure is null ? ExposureScale.Relative : Words<ExposureScale>.ByLetters(Exposure);
        return file.Make(
            pointer, since, () => new SheetLayout(Key ?? SheetLayout.UsualKey, Name, [.. patches.Select(p => p!)], scale, Note));
    }
}

internal sealed record PatchDocument(string Key, string Name, double? LogH = null, string? Role = null)
{
    public LayoutPatch ToPatch() =>
        new(new Patch(Key, Name), LogH, Role is null ? PatchRole.Judged : Words<PatchRole>.ByLetters(Role));
}

/// <summary>Makes the things of the domain that a file is about.</summary>
internal static class Making
{
    /// <summary>Makes something of a value; what the domain refuses is a problem there, and null.</summary>
    public static T? Make<T>(this JsonFile? file, string pointer, Func<T?> make)
        where T : class => file.Make(pointer, file?.Count, make);

    /// <summary>Makes something of parts, unless one of them could not be made: the domain would only complain of that once more.</summary>
    /// <param name="since">How many problems there were before the parts were made.</param>
    public static T? Make<T>(this JsonFile? file, string pointer, int? since, Func<T?> make)
        where T : class
    {
        try
        {
            return file?.Count > since ? null : make();
        }
        catch (ImpossibleValueException refusal) when (file is not null)
        {
            file.Add(pointer, refusal.Message);
            return null;
        }
    }
}
