namespace Acquire.Formats.ProcessSheets;

/// <summary>Says which step of a strip is LD, HD and so on, where the strip is marked and the sheet cannot know.</summary>
public static class LayoutMarks
{
    /// <summary>
    /// Gives a patch of a layout the key that parameters use. Where another patch of the layout had the key, that one becomes a plain
    /// step, which only draws the curve.
    /// </summary>
    /// <param name="sheet">The sheet.</param>
    /// <param name="layoutKey">Key or name of the layout.</param>
    /// <param name="patchKey">The key, such as <c>ld</c>; a patch or difference of the sheet must be taken of it.</param>
    /// <param name="place">Place of the patch in the layout's order, from 1.</param>
    /// <exception cref="ImpossibleValueException">
    /// There is no such layout, key or place, or the patch there serves another parameter.
    /// </exception>
    public static ProcessSheet Mark(ProcessSheet sheet, string layoutKey, string patchKey, int place)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var layout = sheet.GetLayout(layoutKey);
        var taken = sheet.Parameters.SelectMany(p => p.PatchKeys).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        var key = taken.FirstOrDefault(k => string.Equals(k, patchKey, StringComparison.OrdinalIgnoreCase))
            ?? throw new ImpossibleValueException(
                $"No parameter of '{sheet.Key}' is taken of a patch '{patchKey}'; expected one of {string.Join(", ", taken)}.");
        if (place < 1 || place > layout.Patches.Length)
        {
            throw new ImpossibleValueException(
                $"'{layout.Strip.Name}' has the places 1 to {layout.Patches.Length}, so {patchKey} cannot be at {place}.");
        }

        var there = layout.Patches[place - 1];
        if (there.Patch.Key != key && taken.Contains(there.Patch.Key, StringComparer.OrdinalIgnoreCase))
        {
            throw new ImpossibleValueException(
                $"Place {place} of '{layout.Strip.Name}' is {there.Patch.Name}, of which a parameter is taken, so it cannot be "
                + $"{patchKey} too.");
        }

        var patches = layout.Patches.Select((p, i) => i == place - 1 ? Marked(p, key, NameOf(sheet, key), place)
            : string.Equals(p.Patch.Key, key, StringComparison.OrdinalIgnoreCase) ? Plain(p, i + 1)
            : p);
        var marked = new SheetLayout(layout.Key, layout.Strip.Name, [.. patches], layout.Scale, layout.Note);
        return sheet.With(layouts: sheet.Layouts.Replace(layout, marked));
    }

    /// <summary>A copy with some parts changed.</summary>
    internal static ProcessSheet With(
        this ProcessSheet sheet, string? key = null, string? name = null, ImmutableArray<SheetLayout>? layouts = null) =>
        new(key ?? sheet.Key, name ?? sheet.Name, sheet.Status, layouts ?? sheet.Layouts, sheet.Parameters, sheet.Note) { Geometry =
            sheet.Geometry };

    private static LayoutPatch Marked(LayoutPatch patch, string key, string name, int place) =>
        new(new Patch(key, $"{name} (step {place})"), patch.LogH);

    private static LayoutPatch Plain(LayoutPatch patch, int place) =>
        new(new Patch($"step{place}", $"Step {place}"), patch.LogH, PatchRole.Curve);

    // The trade's name as another layout has it.
    private static string NameOf(ProcessSheet sheet, string key) =>
        sheet.Layouts.Select(l => l.Find(key)?.Patch.Name.Split(" (")[0]).OfType<string>().FirstOrDefault() ?? key;
}
