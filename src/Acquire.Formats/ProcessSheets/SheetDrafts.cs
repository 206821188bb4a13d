namespace Acquire.Formats.ProcessSheets;

/// <summary>Begins sheets that the user goes on to edit: copies, and sheets for home-made strips of any patches.</summary>
public static class SheetDrafts
{
    private const string ToFillIn = "No limits yet, so strips are charted without a verdict.";

    /// <summary>A copy under another key.</summary>
    /// <exception cref="ImpossibleValueException">The key or name is empty.</exception>
    public static ProcessSheet Copy(ProcessSheet sheet, string key, string? name)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        return sheet.With(key, name ?? (key == sheet.Key ? sheet.Name : $"{sheet.Name}, {key}"));
    }

    /// <summary>
    /// A sheet for home-made strips: every patch is a parameter, and where there are <c>ld</c> and <c>hd</c> their difference is contrast.
    /// </summary>
    /// <param name="patches">Keys of the patches in reading order, 1 … 100.</param>
    /// <exception cref="ImpossibleValueException">A key is empty, has blanks or is given twice, or there are too many.</exception>
    public static ProcessSheet OfPatches(string key, string name, DensityStatus status, ImmutableArray<string> patches)
    {
        var channels = ChannelsOf(status);
        bool Has(string patch) => patches.Contains(patch, StringComparer.OrdinalIgnoreCase);
        Parameter[] contrast = Has("ld") && Has("hd")
            ? [new DifferenceParameter("contrast", "HD − LD", "contrast", "hd", "ld", channels, ParameterLimits.None)]
            : [];
        return new ProcessSheet(
            key,
            name,
            status,
            [new SheetLayout(
                SheetLayout.UsualKey, $"{name}, home-made", [.. patches.Select(p => new LayoutPatch(new Patch(p, NameOf(p))))])],
            [.. patches.Select(p => new PatchParameter(p, NameOf(p), StandsFor(p), p, channels, ParameterLimits.None)), .. contrast],
            ToFillIn);
    }

    /// <summary>
    /// A sheet for a wedge of equal steps and an unexposed place beside it, with the two points of ISO 6 (0.10 above D-min, 1.30 log H
    /// further; values from memory) as speed point and average gradient.
    /// </summary>
    /// <param name="steps">Steps, from the least exposed, 2 … 99.</param>
    /// <param name="increment">Log exposure from step to step, above 0.</param>
    /// <exception cref="ImpossibleValueException">The steps or the increment are out of bounds.</exception>
    public static ProcessSheet OfWedge(string key, string name, DensityStatus status, int steps, decimal increment)
    {
        if (steps is < 2 or >= SheetLayout.MostPatches)
        {
            throw new ImpossibleValueException($"A wedge has 2 to {SheetLayout.MostPatches - 1} steps, not {steps}.");
        }

        if (increment is <= 0 or > 3)
        {
            throw new ImpossibleValueException(string.Create(
                CultureInfo.InvariantCulture,
                $"The steps of a wedge are above 0 and up to 3 log H apart, not {increment}; half a stop is 0.15."));
        }

        var channels = ChannelsOf(status);
        var patches = Enumerable.Range(1, steps).Select(n => new LayoutPatch(
            new Patch($"step{n}", $"Step {n}"), (double)(increment * (n - 1)), PatchRole.Curve));
        return new ProcessSheet(
            key,
            name,
            status,
            [new SheetLayout(
                SheetLayout.UsualKey,
                $"{name}, {steps}-step wedge",
                [new LayoutPatch(new Patch("dmin", "D-min (unexposed)")), .. patches])],
            [
                new PatchParameter("dmin", "D-min", "fog", "dmin", channels, ParameterLimits.None),
                new SpeedPointParameter(
                    "speed-point", "Speed point 0.10 above D-min", "speed", new AboveBase(0.1), "dmin", channels, ParameterLimits.None),
                new GradientParameter(
                    "gradient", "Average gradient over 1.30 log H", "contrast", new AboveBase(0.1), new BeyondFirst(1.3), "dmin", channels,
                    ParameterLimits.None),
            ],
            ToFillIn);
    }

    private static ImmutableArray<Channel> ChannelsOf(DensityStatus status) =>
        status is DensityStatus.Visual ? [Channel.Visual] : Channels.Colours;

    private static string NameOf(string patch) => patch.ToUpperInvariant() switch
    {
        "DMIN" => "D-min",
        "DMAX" => "D-max",
        "LD" or "MD" or "HD" => patch.ToUpperInvariant(),
        _ when patch.Length > 0 => char.ToUpperInvariant(patch[0]) + patch[1..],
        _ => patch,
    };

    private static string StandsFor(string patch) => patch.ToUpperInvariant() switch
    {
        "DMIN" => "stain and fog",
        "LD" => "speed",
        "HD" => "upper scale",
        _ => "",
    };
}

/// <summary>Says which step of a strip is LD, HD and so on, where the strip is marked and the sheet cannot know.</summary>
public static class LayoutMarks
{
    /// <summary>
    /// Gives a patch of a layout the key that parameters use. Where another patch of the layout had the key, that one becomes a plain
    /// step, which only draws the curve.
    /// </summary>
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
        new(key ?? sheet.Key, name ?? sheet.Name, sheet.Status, layouts ?? sheet.Layouts, sheet.Parameters, sheet.Note)
        {
            Geometry = sheet.Geometry,
        };

    private static LayoutPatch Marked(LayoutPatch patch, string key, string name, int place) =>
        new(new Patch(key, $"{name} (step {place})"), patch.LogH);

    private static LayoutPatch Plain(LayoutPatch patch, int place) =>
        new(new Patch($"step{place}", $"Step {place}"), patch.LogH, PatchRole.Curve);

    // The trade's name as another layout has it.
    private static string NameOf(ProcessSheet sheet, string key) =>
        sheet.Layouts.Select(l => l.Find(key)?.Patch.Name.Split(" (")[0]).OfType<string>().FirstOrDefault() ?? key;
}
